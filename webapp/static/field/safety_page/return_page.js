// Handing a clearance back, the whole or some cells: counted, told, written.

import { h } from "../dom.js";
import { counted } from "../words.js";
import { linesGiven, linesInHand } from "./line_list.js";
import { cellsUnder, cellWords, itemName, listed } from "./names.js";
import { act, backLink, govern, sheetHead, stateWord } from "./parts.js";
import { putBackForm } from "./put_back_form.js";
import { registerPart } from "./register_part.js";
import { asked, cardName, cardsIn, clearancesHere } from "./scopes.js";

/** Draw the return of one clearance. */
export function returnPage(store, ui, id) {
  const isolation = clearancesHere(store).find(({ of }) => of === id);
  if (!isolation) return [sheetHead("Handing back", null, ["This clearance has been handed back."], backLink())];
  const begun = isolation.returning.state !== "none" && isolation.returning.state !== "ended" && ui.choosing !== id;
  return [
    head(store, ui, isolation, begun),
    govern(store),
    ...(begun ? goingOn(store, ui, isolation) : [choosing(store, ui, isolation)]),
  ];
}

function head(store, ui, isolation, begun) {
  const part = isolation.returning_cells;
  const what = !begun ? "whole, or some of its cells" : part ? cellWords(store.safety.book, part) : "the whole clearance";
  const link = h("a", { class: "button", href: `#/safety/isolation/${isolation.of}` }, "‹ Isolation");
  const choose = () => {
    ui.choosing = isolation.of;
    store.changed();
  };
  const other = begun && h("button", { type: "button", class: "button", onclick: choose }, "Another part");
  return sheetHead(`Hand back clearance ${isolation.clearance}`, begun && stateWord(store, isolation.returning, isolation.returning.state === "stands" ? "all lines given" : undefined), [what], other, link);
}

/** What goes back: everything, or the cells that are ticked. */
function choosing(store, ui, isolation) {
  const { book } = store.safety;
  const cells = cellsUnder(book, isolation);
  ui.parts ??= [];
  const begin = (whole) => {
    ui.choosing = null;
    act(store, ui, { act: "open_return", isolation: isolation.of, cells: whole ? null : ui.parts });
  };
  const box = (cell) =>
    h(
      "label",
      { class: "choice" },
      h("input", {
        type: "checkbox",
        "data-focus": `part:${cell.id}`,
        checked: ui.parts.includes(cell.id),
        onchange: ({ target }) => {
          ui.parts = target.checked ? [...ui.parts, cell.id] : ui.parts.filter((one) => one !== cell.id);
          store.changed();
        },
      }),
      h("span", {}, `Cell ${cell.number} · ${cell.name}`),
    );
  return h(
    "section",
    { class: "sheet stack" },
    h("h2", {}, "What goes back"),
    h("p", {}, "The whole clearance, or some cells of it. With cells handed back the device between is a new isolating point: what remains is asked for its boundary again."),
    h("button", { type: "button", class: "button button-main", "data-focus": "return-whole", onclick: () => begin(true) }, "Hand back the whole"),
    cells.length > 1 &&
      h(
        "fieldset",
        { class: "field" },
        h("legend", {}, "Or these cells only"),
        cells.map(box),
        h("button", { type: "button", class: "button", disabled: !ui.parts.length || ui.parts.length === cells.length, onclick: () => begin(false) }, ui.parts.length ? `Hand back ${cellWords(book, ui.parts)} only` : "Choose cells"),
      ),
  );
}

function goingOn(store, ui, isolation) {
  const { returning } = isolation;
  const cells = isolation.returning_cells ?? cellsUnder(store.safety.book, isolation).map(({ id }) => id);
  const cards = cardsIn(store, cells).filter(({ state }) => state !== "signed");
  const unsafe = cards.filter((card) => isCardOpen(store, card));
  return [
    standsInTheWay(cards, unsafe),
    counts(store, isolation),
    linesInHand(store, ui, { ...isolation, lines: returning.lines }, {
      scope: "return",
      of: isolation.of,
      lines: returning.lines,
      isolation: isolation.of,
      beside: (line) => itemsIn(store, line) ?? (countWaits(isolation, line) && h("p", { class: "strong" }, "This line waits until each ground is off on the register.")),
      waits: (line) => countWaits(isolation, line),
      override: (line) => countWaits(isolation, line) && "Grounds stay on: by two names",
    }),
    h("section", { class: "sheet sheet-fold" }, linesGiven(store, ui, isolation, returning.lines, `return:${isolation.of}`)),
    openEntries(isolation).length > 0 && registerPart(store, ui, { ...isolation, put_back: openEntries(isolation) }, "put_back", (entry) => putBackForm(store, ui, isolation, entry)),
    handOver(store, ui, isolation, unsafe),
  ];
}

/** "As many off as on" is not so while the register has a ground on. */
function countWaits({ returning_cells: cells, grounds }, { code }) {
  return code === "P07b" && !cells && grounds.some(({ fields }) => !fields.gone);
}

/** How many loose items went in: the same number comes out. */
function itemsIn(store, { code, item }) {
  const line = code === "G22b" && store.safety.site().points[item]?.lines.find((one) => one.code === "G22a");
  const taken = line?.noted?.items_in;
  return taken === undefined ? null : h("p", { class: "line-shown" }, `${taken} went in.`);
}

/** A card whose after-lines are not given yet; one that took a ground off has them without a reading. */
function isCardOpen(store, { id }) {
  const { after } = store.safety.card(id);
  return after.state !== "none" && asked(after.lines).length > 0;
}

function standsInTheWay(cards, unsafe) {
  const rest = cards.filter((card) => !unsafe.includes(card));
  return [
    unsafe.length > 0 &&
      h(
        "div",
        { class: "notice notice-fault" },
        h("p", {}, h("strong", {}, `${counted(unsafe.length, "card is", "cards are")} not made safe: it cannot go back.`)),
        h("ul", {}, unsafe.map((card) => h("li", {}, h("a", { href: `#/cards/${card.id}` }, cardName(card))))),
      ),
    rest.length > 0 && h("p", { class: "notice notice-care" }, `Not signed yet: ${listed(rest.slice(0, 8).map(cardName))}${rest.length > 8 ? ` and ${rest.length - 8} more` : ""}. That keeps nothing back.`),
  ];
}

/** How many grounds went on and how many are off: counted by the register. */
function counts(store, isolation) {
  const on = isolation.grounds.length;
  const still = isolation.grounds.filter(({ fields }) => !fields.gone);
  const off = on - still.length;
  const words = still.length ? ` Still on: ${listed(still.map((one) => itemName(store, "ground", one)))}.` : "";
  return h("p", { class: still.length ? "notice notice-care" : "notice notice-done" }, h("strong", {}, `Grounds by the register: ${on} on, ${off} off.`), words, still.length > 0 && [" ", h("a", { href: `#/safety/isolation/${isolation.of}` }, "Ground register")]);
}

function openEntries({ put_back: entries }) {
  return entries.filter(({ back, fields }) => !back && !fields.gone);
}

function handOver(store, ui, isolation, unsafe) {
  const open = asked(isolation.returning.lines).length;
  const ready = !open && !unsafe.length;
  const submit = (event) => {
    event.preventDefault();
    const to = (ui.handTo ?? "").trim();
    if (!to) {
      ui.handFault = "Write to whom it goes.";
      ui.focus = "hand-to";
      store.changed();
    } else if (act(store, ui, { act: "hand_back", isolation: isolation.of, cells: isolation.returning_cells, to })) {
      ui.handTo = "";
      location.hash = "#/safety";
    }
  };
  return h(
    "form",
    { class: "sheet", novalidate: true, onsubmit: submit },
    h("h2", {}, "To whom it goes"),
    !ready && h("p", { class: "quiet" }, open ? `${counted(open, "line stands", "lines stand")} between this and handing it back.` : "The cards named above come first."),
    h(
      "div",
      { class: ui.handFault ? "field field-faulty" : "field" },
      h("label", { for: "hand-to" }, "Handed back to"),
      h("input", { id: "hand-to", "data-focus": "hand-to", autocomplete: "off", value: ui.handTo ?? "", oninput: (event) => { ui.handTo = event.target.value; ui.handFault = null; } }),
      ui.handFault && h("p", { class: "fault" }, ui.handFault),
    ),
    h("button", { type: "submit", class: "button button-main", disabled: !ready }, isolation.returning_cells ? `Hand back ${cellWords(store.safety.book, isolation.returning_cells)}` : "Hand back the clearance"),
  );
}
