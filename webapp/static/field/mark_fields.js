// The marks of a curve: a field each; a tap on the curve fills the one that was chosen last.

import { marksInForce, plain } from "/offline/reader.js";
import { h } from "./dom.js";
import { inputMode } from "./keypad.js";
import { readConditions } from "./preview.js";

/** What the marks of a kind of row are asked as, in its own order; none of most kinds. */
export function asksOfMarks(procedure, kind) {
  return (kind.marks ?? []).map((name) => procedure.asks.find((ask) => ask.name === name)).filter(Boolean);
}

/** What is typed as marks at a point: {conditions, faults} by name. */
export function readMarks(procedure, kinds, typed = {}) {
  return readConditions(kinds.flatMap((kind) => asksOfMarks(procedure, kind)), typed);
}

/** What is wrong with the order of marks that lie at these moments, as words; "" where nothing is. */
export function orderFault(marks) {
  const at = Object.values(marks);
  return at.every((one, n) => n === 0 || one >= at[n - 1]) ? "" : `Out of order: they follow as ${Object.keys(marks).join(", ")}.`;
}

/** The fields beside one curve. *typed* is what stands in them by name, *keep(typed)* keeps it. */
export class MarkFields {
  constructor({ point, procedure, kind, typed, keep }) {
    Object.assign(this, { asks: asksOfMarks(procedure, kind), typed, keep });
    [this.chosen] = this.asks;
    this.fault = h("p", { class: "fault small", role: "status", hidden: true });
    this.fields = this.asks.map((ask) => this.field(point, ask));
    this.node = this.asks.length
      ? h(
          "div",
          { class: "marks", role: "group", "aria-label": `Marks at ${point.label}` },
          this.fields.map(({ node }) => node),
          h("p", { class: "small quiet" }, "Found in the curve, as drawn. To set one by hand type it, or choose its field and tap the curve."),
          this.fault,
        )
      : null;
  }

  field(point, ask) {
    const id = `mark-${point.id}-${ask.name}`;
    const how = h("span", { class: "small quiet", id: `${id}-how` });
    const input = h("input", {
      id,
      "data-focus": id,
      type: "text",
      inputmode: inputMode(),
      autocomplete: "off",
      "aria-describedby": `${id}-how`,
      placeholder: "–",
      value: this.typed()[ask.name] ?? "",
      onfocus: () => this.choose(ask),
      oninput: (event) => this.set(ask, event.target.value),
    });
    const node = h("div", { class: "mark-field" }, h("label", { for: id }, ask.label.replace(/^Mark: /, "")), h("span", { class: "with-unit" }, input, h("span", { class: "unit" }, ask.unit)), how);
    return { ask, node, input, how };
  }

  choose(ask) {
    this.chosen = ask;
    for (const { ask: one, node } of this.fields) node.classList.toggle("mark-chosen", one === ask);
  }

  set(ask, text) {
    this.keep({ ...this.typed(), [ask.name]: text });
  }

  /** A tap on the curve: the chosen mark lies there, and the next one is chosen. */
  place(at) {
    const n = this.asks.indexOf(this.chosen);
    const { input } = this.fields[n];
    input.value = plain(Number(at.toPrecision(3)));
    this.choose(this.asks[n + 1] ?? this.asks[0]);
    this.set(this.asks[n], input.value);
  }

  /** Say where each lies: by hand, or *found* in the curve. */
  show(found) {
    const { conditions, faults } = readConditions(this.asks, this.typed());
    for (const { ask, input, how } of this.fields) {
      const at = found[markName(ask)];
      input.placeholder = at === undefined ? "–" : shortly(at);
      how.textContent = faults[ask.name] ?? (ask.name in conditions ? "by hand" : at === undefined ? "not found" : "found");
      how.classList.toggle("fault", ask.name in faults);
    }
    const said = orderFault(marksInForce(found, conditions));
    this.fault.textContent = said;
    this.fault.hidden = !said;
  }
}

const markName = ({ name }) => name.replace(/^mark_(.*)_ms$/, "$1");
const shortly = (at) => plain(Number(at.toPrecision(3)));
