// The forms that open a scope: a crew, a clearance; what they need, typed once.

import { h } from "../dom.js";
import { clockAt, endOf } from "../safety_card/site_clock.js";
import { busWords, cellsOf, sectionsOf } from "./names.js";

/**
 * Draw a form. *about*: name, title, said, button, fields (of "end", "lineups", "lineup",
 * "clearance"), without (lineups left out), open(values) -> whether the act was kept.
 */
export function openingForm(store, ui, about) {
  const draft = ((ui.opening ??= {})[about.name] ??= {});
  const faults = ((ui.openingFaults ??= {})[about.name] ??= {});
  const submit = (event) => {
    event.preventDefault();
    const { values, wrong } = read(store, about, draft);
    ui.openingFaults[about.name] = wrong;
    const [first] = Object.keys(wrong);
    if (first) ui.focus = `opening-${first}`;
    else if (about.open(values)) delete ui.opening[about.name];
    store.changed();
  };
  return h(
    "form",
    { class: "sheet opening-form", novalidate: true, onsubmit: submit, "aria-label": about.title },
    h("h2", { tabindex: -1, "data-focus": "opening" }, about.title),
    h("p", {}, about.said),
    about.fields.map((name) => FIELDS[name](store, draft, faults[name], about)),
    h("button", { type: "submit", class: "button button-main" }, about.button),
  );
}

function read(store, about, draft) {
  const values = {};
  const wrong = {};
  for (const name of about.fields) READ[name](store, draft, values, wrong, about);
  return { values, wrong };
}

const FIELDS = {
  end: (store, draft, fault) =>
    typed("end", "Planned end (time of day)", fault, {
      value: endTyped(store, draft),
      inputmode: "numeric",
      oninput: (event) => (draft.end = event.target.value),
    }),
  clearance: (store, draft, fault) =>
    typed("clearance", "Number of the clearance", fault, {
      value: draft.clearance ?? "",
      autocomplete: "off",
      oninput: (event) => (draft.clearance = event.target.value),
    }),
  lineups: (store, draft, fault, about) => group("lineups", "Works on", fault, lineupBoxes(store, draft, about)),
  lineup: (store, draft, fault) => group("lineup", "What the clearance is for", fault, sectionChoices(store, draft)),
};

const READ = {
  end(store, draft, values, wrong) {
    values.planned_end = endOf(endTyped(store, draft), store.safety.now(), store.zone);
    if (!values.planned_end) wrong.end = "Type the time as 17:30.";
  },
  clearance(store, draft, values, wrong) {
    values.clearance = draft.clearance?.trim();
    if (!values.clearance) wrong.clearance = "Type the number that stands on the clearance.";
  },
  lineups(store, draft, values, wrong, about) {
    values.lineups = chosenLineups(store, draft, about);
    if (!values.lineups.length) wrong.lineups = "Choose at least one lineup.";
  },
  lineup(store, draft, values) {
    [values.lineup, values.section] = chosenSection(store, draft);
  },
};

const HALF_HOUR_MS = 30 * 60 * 1000;

/** The end that is offered: eight hours on, or the site's longest shift where that is less. */
function endTyped(store, draft) {
  const hours = Math.min(8, store.safety.book.settings.shift_hours);
  const at = store.safety.now() + hours * 2 * HALF_HOUR_MS;
  return draft.end ?? clockAt(Math.ceil(at / HALF_HOUR_MS) * HALF_HOUR_MS, store.zone);
}

function chosenLineups(store, draft, { without = [] }) {
  const offered = Object.keys(store.safety.book.lineups).filter((id) => !without.includes(id));
  const first = without.length ? [] : [store.doc.lineup.id];
  return offered.filter((id) => (draft.lineups ?? first).includes(id));
}

function lineupBoxes(store, draft, about) {
  const { lineups } = store.safety.book;
  const offered = Object.keys(lineups).filter((id) => !(about.without ?? []).includes(id));
  if (!offered.length) return h("p", { class: "quiet" }, "The site has no other lineup.");
  return offered.map((id, n) =>
    h(
      "label",
      { class: "choice" },
      h("input", {
        type: "checkbox",
        "data-focus": n ? null : "opening-lineups",
        checked: chosenLineups(store, draft, about).includes(id),
        onchange: (event) => {
          const others = chosenLineups(store, draft, about).filter((one) => one !== id);
          draft.lineups = event.target.checked ? [...others, id] : others;
        },
      }),
      h("span", {}, lineups[id].name),
    ),
  );
}

/** A clearance is for all of a lineup or for a bus section: each is a choice. */
function sections(store) {
  const { book } = store.safety;
  const own = store.doc.lineup.id;
  const ids = Object.keys(book.lineups).sort((a, b) => (b === own) - (a === own));
  return ids.flatMap((id) => {
    const buses = sectionsOf(book, id);
    const name = book.lineups[id].name;
    const parts = buses.length > 1 ? buses : [];
    return [
      [id, null, `${name}, all ${cellsOf(book, id).length} cells`],
      ...parts.map((bus) => [id, bus, `${name}, ${busWords(bus)}: cells ${numbers(book, id, bus)}`]),
    ];
  });
}

function numbers(book, id, bus) {
  return cellsOf(book, id).filter((cell) => cell.bus === bus).map(({ number }) => number).join(", ");
}

function chosenSection(store, draft) {
  return sections(store)[draft.section ?? 0];
}

function sectionChoices(store, draft) {
  return sections(store).map(([, , words], n) =>
    h(
      "label",
      { class: "choice" },
      h("input", {
        type: "radio",
        name: "section",
        "data-focus": n ? null : "opening-lineup",
        checked: n === (draft.section ?? 0),
        onchange: () => (draft.section = n),
      }),
      h("span", {}, words),
    ),
  );
}

function typed(name, label, fault, attributes) {
  const id = `opening-${name}`;
  return h(
    "div",
    { class: fault ? "field field-faulty" : "field" },
    h("label", { for: id }, label),
    h("input", { id, "data-focus": id, "aria-describedby": fault ? `${id}-fault` : null, ...attributes }),
    fault && h("p", { class: "fault", id: `${id}-fault` }, fault),
  );
}

function group(name, label, fault, choices) {
  return h("fieldset", { class: "field" }, h("legend", {}, label), fault && h("p", { class: "fault" }, fault), choices);
}
