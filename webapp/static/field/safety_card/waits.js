// What a card waits for besides its own lines: insulation found good first.

import { h } from "../dom.js";

/** The form that sets aside that insulation comes first; null where it does not wait for it. */
export function insulationFirst(store, card, ui, standing) {
  if (!store.mayRecord || !standing.reasons.some(({ code }) => code === "insulation_first")) return null;
  const draft = store.draft(card.id);
  if (!ui.hv4Open) {
    const open = () => {
      ui.hv4Open = true;
      ui.focus = "hv4-reason";
      store.changed();
    };
    return h("p", { class: "actions" }, h("button", { type: "button", class: "button", "data-focus": "hv4-open", onclick: open }, "Test without it, with a reason"));
  }
  return h(
    "form",
    { class: "inline-form", novalidate: true, onsubmit: (event) => setAside(event, store, card, ui) },
    h(
      "div",
      { class: "field" },
      h("label", { for: "hv4-reason" }, "Why this test goes before the insulation"),
      h("input", {
        id: "hv4-reason",
        name: "reason",
        "data-focus": "hv4-reason",
        autocomplete: "off",
        "aria-describedby": "hv4-fault",
        value: draft.hv4Reason ?? "",
        oninput: (event) => {
          draft.hv4Reason = event.target.value;
          store.saveDrafts();
        },
      }),
      h("span", { class: "fault", id: "hv4-fault", role: "alert" }, ui.hv4Fault ?? ""),
    ),
    h("p", { class: "small" }, store.safety.book.governs),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "submit", class: "button button-main" }, "Record the reason"),
      h("button", { type: "button", class: "button button-quiet", onclick: () => close(store, ui) }, "Cancel"),
    ),
  );
}

function close(store, ui) {
  ui.hv4Open = false;
  ui.hv4Fault = "";
  store.changed();
}

function setAside(event, store, card, ui) {
  event.preventDefault();
  const reason = event.target.elements.reason.value.trim();
  const faults = reason ? store.safety.record({ act: "override", scope: "test", of: card.id, code: "HV4", reason, names: [] }) : [{ message: "Write why." }];
  ui.hv4Fault = faults.map(({ message }) => message).join(" ");
  if (!faults.length) {
    delete store.draft(card.id).hv4Reason;
    store.saveDrafts();
    return close(store, ui);
  }
  return store.changed();
}
