// A register of a scope: its items as they stand, and a form that adds one.

import { h } from "../dom.js";
import { newKey } from "../new_key.js";
import { notedFields, readNoted } from "../safety_card/noted_fields.js";
import { mark } from "../words.js";
import { clock, itemName, lineItemName, NAMING, notedWords, registersOf } from "./names.js";
import { act } from "./parts.js";
import { asked, standing } from "./scopes.js";

const ABOUT = {
  source: { title: "Sources", one: "source", none: "No source is on the list yet: back-feed counts, from the low side too." },
  ground: { title: "Grounds", one: "ground", none: "No ground is on the register yet." },
  put_back: { title: "Put-back list", one: "entry", none: "Nothing is disconnected, shorted, blocked or defeated." },
  set: { title: "Test sets above 1 kV", one: "test set", none: "None is on the list: each one gets its function check here." },
  place: { title: "Places to enter", one: "place", none: "None is on the list: vault, trench, pit, cable basement, battery room." },
};

/** Draw a register with what can be done to its items (*deeds*: item -> nodes). */
export function registerPart(store, ui, scope, register, deeds = () => []) {
  const about = ABOUT[register];
  const items = registersOf(scope)[register];
  const there = items.filter(({ fields }) => !fields.gone);
  const gone = items.filter(({ fields }) => fields.gone);
  const name = `add:${register}`;
  if (!items.length && !ui[name]) return emptyRegister(store, ui, name, about);
  return h(
    "section",
    { class: "sheet register", "aria-labelledby": `register-${register}` },
    h(
      "div",
      { class: "list-head" },
      h("h2", { id: `register-${register}` }, there.length ? `${about.title}: ${there.length}` : about.title),
      addButton(store, ui, name, about),
    ),
    ui[name] && addForm(store, ui, scope, register),
    !there.length && h("p", { class: "quiet" }, about.none),
    listOf(store, ui, scope, register, there, deeds),
    gone.length > 0 && goneList(store, register, gone),
  );
}

/** A register with nothing on it takes one row. */
function emptyRegister(store, ui, name, about) {
  return h("section", { class: "sheet notice-row" }, h("h2", {}, about.title), h("p", { class: "quiet grow" }, about.none), addButton(store, ui, name, about));
}

/** While it is being filled all is shown; later what is asked again, the rest in one line. */
function listOf(store, ui, scope, register, there, deeds) {
  const open = new Set(asked(scope.lines).map(({ item }) => item));
  const shown = scope.state === "filling" ? there : there.filter(({ item }) => open.has(item));
  const rest = there.filter((one) => !shown.includes(one));
  return [
    shown.length > 0 && openList(store, ui, scope, register, shown, deeds),
    rest.length > 0 && foldedList(store, ui, scope, register, rest, deeds),
  ];
}

/** What can be done to an item; while the scope is being filled it can be corrected too. */
function deedsOf(store, ui, scope, register, one, deeds) {
  const correct = !one.back && (scope.state === "filling" || register === "put_back");
  return [...deeds(one), ...(correct ? [correctButton(store, ui, register, one)] : [])];
}

function openList(store, ui, scope, register, there, deeds) {
  return h("ul", { class: "lines" }, there.map((one) => h("li", {}, row(store, scope, register, one, deedsOf(store, ui, scope, register, one, deeds)))));
}

/** What stands takes one line, with the names. */
function foldedList(store, ui, scope, register, there, deeds) {
  const open = `open:${register}`;
  return h(
    "details",
    { class: "more", open: ui[open], ontoggle: (event) => (ui[open] = event.target.open) },
    h("summary", { "data-focus": open }, there.map((one) => itemName(store, register, one)).join(" · ")),
    openList(store, ui, scope, register, there, deeds),
  );
}

function addButton(store, ui, name, about) {
  const open = () => {
    ui[name] = { item: newKey(), values: {}, faults: {}, title: `One more ${about.one}` };
    ui.focus = `${name}-title`;
    store.changed();
  };
  if (ui[name]) return null;
  return h("button", { type: "button", class: "button", "data-focus": name, onclick: open }, `Add a ${about.one}`.replace("a entry", "an entry"));
}

/** Written anew: what stands on the list was wrong or has changed. */
function correctButton(store, ui, register, one) {
  const open = () => {
    ui[`add:${register}`] = { item: one.item, values: { ...one.fields }, faults: {}, title: `Correct: ${itemName(store, register, one)}` };
    ui.focus = `add:${register}-title`;
    store.changed();
  };
  return h("button", { type: "button", class: "button button-quiet", onclick: open }, "Correct", h("span", { class: "out-of-sight" }, ` ${itemName(store, register, one)}`));
}

function row(store, scope, register, one, deeds) {
  const name = itemName(store, register, one);
  return h(
    "div",
    { class: "register-row" },
    mark(one.back ? "done" : one.off_for ? "outside" : "unjudged"),
    h(
      "div",
      {},
      h("p", {}, h("strong", {}, name), stateOf(store, register, one)),
      h("p", { class: "detail" }, details(store, scope, register, one).join(" · ")),
    ),
    deeds.length > 0 && h("div", { class: "actions" }, deeds),
  );
}

/** What is so of an item now: off for a card, put back, or nothing to say. */
function stateOf(store, register, one) {
  if (one.back) return ` · put back ${clock(one.back.at, store.zone)}, ${one.back.by}`;
  if (register === "ground" && one.off_for) return h("span", { class: "word-outside" }, ` · off for ${cardOf(store, one.off_for)}`);
  return register === "ground" ? " · on the register" : null;
}

function cardOf(store, id) {
  const card = store.cards.get(id);
  return card ? `card ${card.position}` : "a card";
}

/** The item's own fields, what its lines noted, who wrote it and when. */
function details(store, scope, register, one) {
  const names = (store.safety.book.registers[register] ?? []).filter((name) => !NAMING[register].includes(name));
  const own = names.map((name) => labelled(store, name, one.fields[name]));
  const noted = standing(scope.lines)
    .filter(({ item, code }) => item === one.item && lineItemName(store, scope, { code, item }))
    .flatMap(({ noted: said }) => Object.entries(said ?? {}))
    .filter(([, value]) => !Object.values(one.fields).includes(value))
    .map(([name, value]) => labelled(store, name, value));
  const torque = one.back?.torque ? `torque ${one.back.torque}` : null;
  return [...new Set([...own, ...noted]), torque, `${one.by}, ${clock(one.at, store.zone)}`].filter(Boolean);
}

function labelled(store, name, value) {
  const said = notedWords(store, name, value);
  const label = store.safety.book.fields[name]?.label.toLowerCase() ?? name;
  return said && `${label}: ${said}`;
}

function goneList(store, register, gone) {
  return h(
    "details",
    { class: "more" },
    h("summary", {}, `${gone.length} off the list`),
    h("ul", { class: "plain" }, gone.map((one) => h("li", {}, `${itemName(store, register, one)} · off ${clock(one.at, store.zone)}, ${one.by}`))),
  );
}

function addForm(store, ui, scope, register) {
  const name = `add:${register}`;
  const form = ui[name];
  const names = store.safety.book.registers[register] ?? [];
  const submit = (event) => {
    event.preventDefault();
    const { noted, faults } = readNoted(store, names, form.values);
    form.faults = faults;
    const [first] = Object.keys(faults);
    if (first) ui.focus = `${register}-${first}`;
    else if (act(store, ui, { act: "list", register, of: scope.of, item: form.item, fields: noted })) {
      ui[name] = null;
      ui.focus = name;
    }
    store.changed();
  };
  const close = () => {
    ui[name] = null;
    ui.focus = name;
    store.changed();
  };
  return h(
    "form",
    { class: "inline-form", novalidate: true, onsubmit: submit },
    h("h3", { tabindex: -1, "data-focus": `${name}-title` }, form.title),
    scope.state === "stands" && ["source", "ground"].includes(register) && h("p", { class: "strong" }, "Added to a standing clearance, it closes the open cards of its cells until its own lines are given and each cell is entered again."),
    h("div", { class: "noted-fields" }, notedFields(store, names, form.values, { prefix: register, faults: form.faults, isolation: scope.of, onchange: () => {} })),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "submit", class: "button button-main" }, "Put it on the list"),
      h("button", { type: "button", class: "button button-quiet", onclick: close }, "Cancel"),
    ),
  );
}
