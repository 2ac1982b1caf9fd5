// The verdict beside the calculator, in the words that the server would use.

import { figure, scaleFor, unitOf } from "/offline/reader.js";
import { h } from "/static/field/dom.js";
import { shownAmount } from "/static/field/shown_amount.js";
import { limitStrip } from "/static/field/strip.js";
import { recalled, restsOnMemory, verdict } from "/static/field/words.js";

const SOURCE = "Source: ";

/** Show that there is no verdict, and why. */
export function showNothing(parent, words) {
  parent.replaceChildren(h("p", { class: "quiet", role: "status" }, words));
}

/**
 * Show a judgement; *tables* leads from the words of a source to its table's key, *curve*
 * is a relay's, drawn, or null.
 */
export function showAnswer(parent, judgement, text, tables, curve) {
  const sources = judgement.working.filter((line) => line.startsWith(SOURCE));
  const steps = judgement.working.filter((line) => !line.startsWith(SOURCE));
  const value = corrected(judgement);
  parent.replaceChildren(
    h(
      "p",
      { class: "answer-head", role: "status" },
      verdict(judgement.verdict),
      value && h("span", { class: "figures answer-value" }, ` ${value}`),
    ),
    ...[limitStrip(judgement, text)].filter(Boolean),
    ...(curve ? [curve] : []),
    ...(restsOnMemory(judgement) ? [h("p", {}, recalled())] : []),
    h("p", { class: "strong" }, judgement.reason),
    h("h3", {}, "Working"),
    h("ol", { class: "working" }, steps.map((step) => h("li", {}, step))),
    ...(sources.length ? [h("h3", {}, "Sources"), sourceList(sources, tables)] : []),
  );
}

function sourceList(lines, tables) {
  const items = lines.map((line) => {
    const words = line.slice(SOURCE.length);
    const key = tables[words];
    return h("li", {}, key ? h("a", { href: `tables/${encodeURIComponent(key)}` }, words) : words);
  });
  return h("ul", { class: "sources" }, items);
}

function corrected(judgement) {
  const { corrected: value, uncertainty } = judgement;
  const unit = unitOf(judgement);
  if (value === null || !unit) return "";
  if (!uncertainty) return shownAmount(value, unit);
  const { words, over } = scaleFor(value, unit);
  return `${figure(value / over)} ± ${figure(uncertainty / over, 2)}${words}`;
}
