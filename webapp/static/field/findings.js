// Notes and deficiencies of a card.

import { saidUnit } from "/offline/reader.js";
import { h } from "./dom.js";
import { standing } from "./preview.js";
import { typedWords } from "./point_words.js";
import { counted, mark, SEVERITIES, siteTime } from "./words.js";

/** Draw the notes, with a field for one more. */
export function notesPanel(store, card) {
  const faults = store.faultsAt(card.id, "note");
  const submit = (event) => {
    event.preventDefault();
    const text = event.target.elements.note.value.trim();
    store.clearFaults(card.id, "note");
    if (!text) {
      store.addFault(card.id, "note", "Write the note first.");
      store.changed();
      return;
    }
    store.draft(card.id).note = "";
    store.saveDrafts();
    store.record({ kind: "note", card_id: card.id, text });
  };
  return h(
    "section",
    { class: "sheet", "aria-label": "Notes" },
    h("h2", { class: "sheet-title" }, "Notes"),
    card.notes.length
      ? h(
          "ul",
          { class: "lines" },
          card.notes.map((note) =>
            h(
              "li",
              { class: "note" },
              h("p", {}, note.text),
              h("p", { class: "quiet small" }, `${note.by}, ${siteTime(note.at, store.zone)}`),
            ),
          ),
        )
      : h("p", { class: "quiet" }, "No notes yet."),
    mayEdit(store, card) &&
      h(
        "form",
        { onsubmit: submit },
        h(
          "div",
          { class: `field${faults.length ? " field-faulty" : ""}` },
          h("label", { for: "note" }, "Note for the record"),
          h("textarea", {
            id: "note",
            name: "note",
            "data-focus": "note",
            rows: 2,
            value: store.draft(card.id).note ?? "",
            oninput: (event) => {
              store.draft(card.id).note = event.target.value;
              store.saveDrafts();
            },
          }),
          faults.map((said) => h("span", { class: "fault" }, said)),
        ),
        h("button", { class: "button", type: "submit" }, "Add note"),
      ),
  );
}

export function mayEdit(store, card) {
  return store.mayRecord && !["signed", "signing", "withdrawn"].includes(card.state);
}

/** Open the form for a deficiency on a reading, with words to start from. */
export function startDeficiency(store, card, ui, point, reading) {
  store.draft(card.id).deficiency = {
    open: true,
    reading_id: reading.id,
    text: "",
    severity: "stops_turnover",
    holder: "",
    about: `${point.label}: ${typedWords(reading)} ${saidUnit(reading.unit ?? "")}`.trim(),
  };
  store.saveDrafts();
  ui.focus = "deficiency-text";
  store.changed();
}

/** The form for a deficiency where it was asked for: below the point whose reading it is on. */
export function deficiencyAt(store, card, point) {
  const draft = store.draft(card.id).deficiency;
  return raisedAt(card, draft) === point.id ? deficiencyForm(store, card, draft) : null;
}

/** The point whose reading the open form is on; undefined for one on the whole card. */
function raisedAt(card, draft) {
  if (!draft?.open || !draft.reading_id) return undefined;
  return card.readings.find((reading) => reading.id === draft.reading_id)?.point_id;
}

/** Draw the deficiencies, the form for a new one and for closing one. */
export function deficienciesPanel(store, card) {
  const draft = store.draft(card.id).deficiency;
  return h(
    "section",
    { class: "sheet", "aria-label": "Deficiencies" },
    h("h2", { class: "sheet-title" }, "Deficiencies"),
    card.deficiencies.length
      ? h("ul", { class: "lines" }, card.deficiencies.map((one) => deficiency(store, card, one)))
      : h("p", { class: "quiet" }, "None raised on this card."),
    mayEdit(store, card) &&
      (draft?.open && raisedAt(card, draft) === undefined
        ? deficiencyForm(store, card, draft)
        : h(
            "button",
            {
              type: "button",
              class: "button",
              onclick: () => {
                store.draft(card.id).deficiency = { open: true, severity: "stops_turnover", text: "", holder: "" };
                store.changed();
                document.getElementById("deficiency-text")?.focus();
              },
            },
            "Raise deficiency",
          )),
  );
}

function deficiency(store, card, one) {
  const open = one.state === "open";
  const retest = open && mayEdit(store, card) && !one.waiting && retestOf(card, one);
  return h(
    "li",
    {},
    h(
      "div",
      { class: "line" },
      mark(open ? "open" : "done"),
      h(
        "div",
        {},
        h("p", {}, h("span", { class: "strong" }, one.number), ` · ${one.text}`),
        h(
          "p",
          { class: "detail" },
          `${one.state} · ${open ? SEVERITIES[one.severity] + " · " : ""}held by ${one.holder} · ` +
            `raised by ${one.raised_by}, ${siteTime(one.raised_at, store.zone)}`,
        ),
        photosOf(store, card, one),
        one.closing_text && h("p", { class: "detail" }, `Closed: ${one.closing_text}`),
        open && mayEdit(store, card) && one.reading_id && !retest &&
          h("p", { class: "detail" }, "Measure the point again; that reading closes it."),
      ),
    ),
    retest && closingForm(store, card, one, retest),
  );
}

/** Its photographs and files: on record, and still on this tablet. */
function photosOf(store, card, { id }) {
  const attached = (card.attachments ?? store.cards.get(card.id)?.attachments ?? []).filter((one) => one.deficiency_id === id);
  const kept = store.photos.of(card.id).filter((one) => one.deficiency_id === id);
  if (!attached.length && !kept.length) return null;
  return h(
    "p",
    { class: "detail" },
    attached.map((one) => h("a", { class: "photo-link", href: `/files/${one.id}`, target: "_blank", rel: "noopener" }, one.name)),
    kept.length > 0 && h("span", {}, `${counted(kept.length, "photograph")} kept on this tablet`),
  );
}

/** The reading that may close a deficiency: a later one at the same point. */
function retestOf(card, one) {
  if (!one.reading_id) return { none: true };
  const raisedOn = card.readings.find((reading) => reading.id === one.reading_id);
  const held = raisedOn && standing(card).get(raisedOn.point_id);
  if (!held || held.id === one.reading_id || held.waiting) return null;
  return held;
}

function closingForm(store, card, one, retest) {
  const draft = store.draft(card.id);
  const faults = store.faultsAt(card.id, "close_deficiency");
  const submit = (event) => {
    event.preventDefault();
    const text = event.target.elements.closing.value.trim();
    store.clearFaults(card.id, "close_deficiency");
    if (!text) {
      store.addFault(card.id, "close_deficiency", "Write how it was put right.");
      store.changed();
      return;
    }
    delete draft.closing;
    store.saveDrafts();
    store.record({
      kind: "close_deficiency",
      card_id: card.id,
      deficiency_id: one.id,
      reading_id: retest.none ? null : retest.id,
      text,
    });
  };
  const id = `closing-${one.id}`;
  return h(
    "form",
    { class: "inline-form", onsubmit: submit },
    !retest.none &&
      h(
        "p",
        { class: "small" },
        `Retest: ${typedWords(retest)} ${saidUnit(retest.unit ?? "")}, ${retest.judgement.verdict}.`,
      ),
    h(
      "div",
      { class: `field${faults.length ? " field-faulty" : ""}` },
      h("label", { for: id }, `How ${one.number} was put right`),
      h("input", {
        id,
        name: "closing",
        "data-focus": id,
        autocomplete: "off",
        value: draft.closing?.text ?? "",
        oninput: (event) => {
          draft.closing = { text: event.target.value };
          store.saveDrafts();
        },
      }),
      faults.map((said) => h("span", { class: "fault" }, said)),
    ),
    h("button", { class: "button", type: "submit" }, `Close ${one.number}${retest.none ? "" : " with this reading"}`),
  );
}

function deficiencyForm(store, card, draft) {
  const faults = store.faultsAt(card.id, "deficiency");
  const keep = (name) => (event) => {
    draft[name] = event.target.value;
    store.saveDrafts();
  };
  const leave = () => {
    delete store.draft(card.id).deficiency;
    store.clearFaults(card.id, "deficiency");
    store.saveDrafts();
    store.changed();
  };
  const submit = (event) => {
    event.preventDefault();
    store.clearFaults(card.id, "deficiency");
    if (!draft.text?.trim()) store.addFault(card.id, "deficiency", "Write what is wrong.");
    if (!draft.holder?.trim()) store.addFault(card.id, "deficiency", "Write who has to put it right.");
    if (store.faultsAt(card.id, "deficiency").length) {
      store.changed();
      return;
    }
    const entry = {
      kind: "deficiency",
      card_id: card.id,
      text: draft.text.trim(),
      severity: draft.severity,
      holder: draft.holder.trim(),
      reading_id: draft.reading_id ?? null,
    };
    delete store.draft(card.id).deficiency;
    store.saveDrafts();
    store.record(entry);
  };
  return h(
    "form",
    { class: "inline-form", onsubmit: submit, "aria-label": "New deficiency" },
    draft.about && h("p", {}, "On the reading ", h("span", { class: "strong" }, draft.about)),
    h(
      "div",
      { class: "field" },
      h("label", { for: "deficiency-text" }, "What is wrong"),
      h("textarea", {
        id: "deficiency-text",
        "data-focus": "deficiency-text",
        rows: 2,
        value: draft.text ?? "",
        oninput: keep("text"),
      }),
    ),
    h(
      "div",
      { class: "field" },
      h("label", { for: "deficiency-holder" }, "Who has to put it right"),
      h("input", {
        id: "deficiency-holder",
        "data-focus": "deficiency-holder",
        autocomplete: "off",
        value: draft.holder ?? "",
        oninput: keep("holder"),
      }),
    ),
    h(
      "fieldset",
      { class: "field" },
      h("legend", {}, "Turnover"),
      Object.entries({ stops_turnover: "It stops turnover", may_follow: "It may follow turnover" }).map(
        ([value, said]) =>
          h(
            "label",
            { class: "choice" },
            h("input", {
              type: "radio",
              name: "severity",
              value,
              checked: draft.severity === value,
              onchange: keep("severity"),
            }),
            h("span", {}, said),
          ),
      ),
    ),
    faults.map((said) => h("p", { class: "fault" }, said)),
    h(
      "div",
      { class: "actions" },
      h("button", { class: "button button-main", type: "submit" }, "Raise it"),
      h("button", { class: "button button-quiet", type: "button", onclick: leave }, "Cancel"),
    ),
  );
}
