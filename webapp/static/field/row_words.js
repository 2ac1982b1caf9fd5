// What rows of readings are said by on a card.

import { plain } from "/offline/reader.js";
import { h } from "./dom.js";
import { readText } from "./series.js";
import { timeWords } from "./series_curve.js";

/** The steps of the baseline's row; in *unit* only, where one is given. */
export function baselineRow(point, kind, unit) {
  const text = point.baseline?.rows?.[kind.name];
  if (!text || (unit && unit !== (kind.unit || point.baseline.unit))) return [];
  return readText(text, kind);
}

/** What a row comes to, and what that was in the baseline. */
export function quotientList(found, baseline) {
  if (!found.length) return null;
  const then = new Map(baseline);
  const item = ([label, shown]) =>
    h(
      "div",
      {},
      h("dt", {}, label, then.has(label) && h("span", { class: "small quiet" }, ` baseline ${then.get(label)}`)),
      h("dd", {}, shown),
    );
  return h("dl", { class: "quotients" }, found.map(item));
}

/** Where a step lies: 30 s, 10 min, 2.5 kV. */
export function stepWords(kind, at) {
  return kind.step_unit === "s" ? timeWords(at) : `${plain(at)} ${kind.step_unit}`;
}
