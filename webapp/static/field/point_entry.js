// The fields of a point that is being entered.

import { saidUnit } from "/offline/reader.js";
import { overTheRatio } from "./both_bases.js";
import { h } from "./dom.js";
import { inputMode } from "./keypad.js";
import { OUTCOMES } from "./words.js";

/** *first*: the reading that holds until it is measured again. */
export function entry(grid, point, first) {
  const draft = grid.draft.of(point);
  return h(
    "div",
    { class: "point-entry" },
    draft?.again && [first, againHead(grid, point, draft)],
    grid.draft.takesNumbers() && numberEntry(grid, point, draft),
    overTheRatio(grid.store.doc.rules[point.rule_id], "reading", () => grid.draft.of(point)?.text ?? "", (text) => {
      grid.type(point, text);
      grid.store.changed();
    }),
    grid.draft.takesOutcomes() && outcomeEntry(grid, point, draft),
    lackingEntry(grid, point),
  );
}

/** Without a condition that the rule needs the reading stands unjudged: not by accident. */
function lackingEntry(grid, point) {
  return h(
    "button",
    {
      type: "button",
      class: "button button-quiet",
      id: `lacking-${point.id}`,
      hidden: !grid.lacksHere(point),
      onclick: () => grid.record(point, true),
    },
    "Record it without",
    h("span", { class: "out-of-sight" }, `, unjudged: ${point.label}`),
  );
}

function againHead(grid, point, draft) {
  return h(
    "div",
    { class: "field again" },
    h("label", { for: `again-${point.id}` }, "Why it is measured again"),
    h("input", {
      id: `again-${point.id}`,
      "data-focus": `again-${point.id}`,
      autocomplete: "off",
      value: draft.again.reason ?? "",
      oninput: (event) =>
        grid.draft.set(point, { again: { ...draft.again, reason: event.target.value } }),
    }),
    keepFirst(grid, point),
  );
}

/** A point that is measured again once its card is open for entry. */
export function againLater(grid, point) {
  return h("div", { class: "small" }, "to be measured again: give the lines above first ", keepFirst(grid, point));
}

function keepFirst(grid, point) {
  const keep = () => {
    grid.draft.drop(point);
    grid.store.changed();
  };
  return h("button", { type: "button", class: "button button-quiet", onclick: keep }, "Keep the first reading");
}

function numberEntry(grid, point, draft) {
  const number = draft?.text in OUTCOMES ? "" : (draft?.text ?? "");
  return h(
    "div",
    { class: "entry-box" },
    h("input", {
      type: "text",
      inputmode: inputMode(),
      autocomplete: "off",
      autocapitalize: "off",
      class: "reading",
      "data-focus": `reading-${point.id}`,
      "data-point": point.id,
      "aria-label": `Reading at ${point.label}`,
      "aria-describedby": `fault-${point.id}`,
      placeholder: "–",
      value: number,
      onfocus: () => grid.activate(point),
      oninput: (event) => grid.type(point, event.target.value),
      onkeydown: (event) => event.key === "Enter" && grid.record(point),
    }),
    h(
      "select",
      {
        class: "unit-select",
        onwheel: (event) => event.preventDefault(), // a wheel never changes what was chosen
        "aria-label": `Unit at ${point.label}`,
        value: grid.draft.unitOf(point),
        onchange: (event) => {
          grid.draft.set(point, { unit: event.target.value });
          grid.judge();
        },
      },
      grid.procedure.units.map((unit) => h("option", { value: unit }, saidUnit(unit))),
    ),
  );
}

function outcomeEntry(grid, point, draft) {
  return h(
    "div",
    { class: "outcomes", role: "group", "aria-label": `Outcome at ${point.label}` },
    grid.procedure.outcomes.map((outcome) =>
      h(
        "button",
        {
          type: "button",
          class: "outcome",
          "data-focus": `outcome-${point.id}-${outcome}`,
          "aria-pressed": String(draft?.text === outcome),
          onclick: () => {
            grid.activate(point);
            grid.draft.set(point, { text: draft?.text === outcome ? "" : outcome });
            grid.store.changed();
          },
        },
        OUTCOMES[outcome],
      ),
    ),
  );
}
