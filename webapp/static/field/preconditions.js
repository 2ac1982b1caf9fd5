// Preconditions: read and confirmed by name, before a card opens and after the test.

import { h } from "./dom.js";
import { counted, mark, siteDay, siteTime } from "./words.js";

/** Return the codes to be answered before the card opens, or after the test. */
export function codesOf(store, card, after) {
  return card.preconditions.filter((code) => store.doc.preconditions[code].after === after);
}

/** Return code -> its latest answer. */
export function answers(card) {
  return new Map(card.confirmed.map((one) => [one.code, one]));
}

/** Return the codes of one list that nobody has answered yet. */
export function openCodes(store, card, after) {
  const given = answers(card);
  return codesOf(store, card, after).filter((code) => !given.has(code));
}

/** Return the open code that is asked for next: the one turned to, else the first. */
export function codeInHand(open, ui) {
  return open.includes(ui.inHand) ? ui.inHand : open[0];
}

/** Draw a list that is answered as one line, to be opened again. */
export function answeredSummary(store, card, ui, after, title) {
  const codes = codesOf(store, card, after);
  const given = card.confirmed.filter((one) => codes.includes(one.code));
  const shown = after ? "afterAgain" : "readAgain";
  return h(
    "section",
    { class: "sheet preconditions-summary", "aria-label": title },
    h("p", {}, h("span", { class: "strong" }, title), ` · ${summaryWords(store, codes, given)}`),
    h(
      "button",
      {
        type: "button",
        class: "button",
        "data-focus": `read-again-${after}`,
        "aria-expanded": String(Boolean(ui[shown])),
        onclick: () => {
          ui[shown] = !ui[shown];
          store.changed();
        },
      },
      ui[shown] ? "Close the list" : "Read again",
    ),
  );
}

function summaryWords(store, codes, given) {
  const last = given.at(-1);
  if (!last) return `none of ${codes.length} answered`;
  const names = [...new Set(given.map((one) => one.by))].join(", ");
  const not = [...new Map(given.map((one) => [one.code, one.state])).values()].filter(
    (state) => state === "not_applicable",
  ).length;
  const apart = not ? `, ${not} not applicable` : "";
  return `${codes.length - not} of ${codes.length} confirmed by ${names}${apart}, ${siteTime(last.at, store.zone)}`;
}

/** Draw one list: *title*, each item with its source, who answered and when. */
export function preconditionList(store, card, ui, after, title) {
  const codes = codesOf(store, card, after);
  const given = answers(card);
  const open = codes.filter((code) => !given.has(code));
  const next = store.mayRecord ? codeInHand(open, ui) : null;
  return h(
    "section",
    { class: "sheet", "aria-label": title },
    h(
      "div",
      { class: "list-head" },
      h("h2", {}, title),
      h("span", { class: "quiet" }, `${codes.length - open.length} of ${codes.length} answered`),
    ),
    store.mayRecord && open.length > 0 && carryOver(store, card, open, after),
    h(
      "ul",
      { class: "lines preconditions" },
      codes.map((code) => item(store, card, ui, code, given.get(code), code === next)),
    ),
  );
}

/** Offer the answers of another card of today: one deliberate act, stored one by one. */
function carryOver(store, card, open, after) {
  const today = siteDay(store.clock.now(), store.zone);
  let best = null;
  for (const other of store.cards.values()) {
    // Isolation and absence of voltage are proved at each point of work: what was seen at
    // another cell says nothing of this one.
    if (other.id === card.id || other.cell_id !== card.cell_id) continue;
    const mine = store
      .card(other.id)
      .confirmed.filter(
        (one) =>
          one.by === store.me &&
          one.state === "confirmed" &&
          open.includes(one.code) &&
          siteDay(one.at, store.zone) === today,
      );
    if (mine.length > (best?.mine.length ?? 0)) best = { other, mine };
  }
  if (!best || best.mine.length < 3) return null;
  const { other, mine } = best;
  return h(
    "div",
    { class: "notice carry-over" },
    h(
      "p",
      {},
      `You confirmed ${counted(mine.length, "of these", "of these")} on ${other.apparatus.label}, ` +
        `${other.title.toLowerCase()}, at ${siteTime(mine.at(-1).at, store.zone)}.`,
    ),
    h(
      "button",
      {
        type: "button",
        class: "button",
        onclick: () =>
          store.record(
            ...mine.map((one) => ({
              kind: "confirm",
              card_id: card.id,
              code: one.code,
              state: "confirmed",
            })),
          ),
      },
      after
        ? `Confirm these ${mine.length} here as well`
        : `I have looked again: confirm these ${mine.length} here`,
    ),
  );
}

function item(store, card, ui, code, answer, isNext) {
  const about = store.doc.preconditions[code];
  const faults = store.faultsAt(card.id, `code:${code}`);
  return h(
    "li",
    { class: answer ? "answered" : isNext ? "in-hand" : "", id: `item-${code}` },
    h(
      "div",
      { class: "precondition" },
      answer ? mark("done") : mark("open"),
      h(
        "div",
        {},
        h("p", { id: `text-${code}` }, h("span", { class: "code" }, code), about.text),
        h("p", { class: "quiet small" }, `Source: ${about.source}`),
        answer && h("p", { class: "small" }, answerWords(store, answer)),
        faults.map((said) => h("p", { class: "fault" }, said)),
      ),
      !answer && store.mayRecord && buttons(store, card, ui, code),
    ),
    ui.notApplicable === code && !answer && reasonForm(store, card, ui, code),
  );
}

function answerWords(store, answer) {
  const at = `${answer.by}, ${siteTime(answer.at, store.zone)}${answer.waiting ? " (kept on this tablet)" : ""}`;
  return answer.state === "confirmed"
    ? `Confirmed by ${at}`
    : `Does not apply: ${answer.reason} · ${at}`;
}

function buttons(store, card, ui, code) {
  return h(
    "div",
    { class: "actions" },
    h(
      "button",
      {
        type: "button",
        class: "button",
        "data-focus": `confirm:${code}`,
        "aria-describedby": `text-${code}`,
        onclick: () => {
          store.clearFaults(card.id, `code:${code}`);
          ui.inHand = null;
          store.record({ kind: "confirm", card_id: card.id, code, state: "confirmed" });
          focusNext(code);
        },
      },
      "Confirm",
    ),
    h(
      "button",
      {
        type: "button",
        class: "button button-quiet",
        "aria-describedby": `text-${code}`,
        onclick: () => {
          ui.notApplicable = code;
          ui.inHand = code;
          ui.focus = "reason-not";
          store.changed();
        },
      },
      "Does not apply",
    ),
  );
}

/** Keep the thumb where it is: the next open item takes the focus. */
function focusNext(code) {
  const open = [...document.querySelectorAll('[data-focus^="confirm:"]')];
  const next = open.find((button) => button.dataset.focus > `confirm:${code}`) ?? open[0];
  next?.focus({ preventScroll: true });
}

function reasonForm(store, card, ui, code) {
  const draft = store.draft(card.id);
  const submit = (event) => {
    event.preventDefault();
    const reason = event.target.elements.reason.value.trim();
    store.clearFaults(card.id, `code:${code}`);
    if (!reason) {
      store.addFault(card.id, `code:${code}`, "Write why it does not apply here.");
      store.changed();
      return;
    }
    ui.notApplicable = null;
    delete draft.reasonNot;
    store.saveDrafts();
    store.record({ kind: "confirm", card_id: card.id, code, state: "not_applicable", reason });
  };
  return h(
    "form",
    { class: "inline-form", onsubmit: submit },
    h(
      "div",
      { class: "field" },
      h("label", { for: "reason-not" }, `Why ${code} does not apply here`),
      h("input", {
        id: "reason-not",
        name: "reason",
        "data-focus": "reason-not",
        autocomplete: "off",
        value: draft.reasonNot?.code === code ? draft.reasonNot.text : "",
        oninput: (event) => {
          draft.reasonNot = { code, text: event.target.value };
          store.saveDrafts();
        },
      }),
    ),
    h(
      "div",
      { class: "actions" },
      h("button", { class: "button", type: "submit" }, "Record that it does not apply"),
      h(
        "button",
        {
          class: "button button-quiet",
          type: "button",
          onclick: () => {
            ui.notApplicable = null;
            store.changed();
          },
        },
        "Cancel",
      ),
    ),
  );
}
