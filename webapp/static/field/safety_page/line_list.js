// The lines of a scope: the one in hand, what is asked after it, what stands, folded.

import { h } from "../dom.js";
import { lapseWord } from "../safety/words.js";
import { inHandId, lineEntry } from "../safety_card/line_entry.js";
import { counted, mark } from "../words.js";
import { knownAt, notedBefore } from "./known.js";
import { clock, lineItemName, notedWords, personOf } from "./names.js";
import { asked, isEach, standing } from "./scopes.js";

/**
 * Draw the lines of *scope* that are asked, one in hand. *options*: scope (its name), of,
 * lines (all that are needed, in their order), who (says them; a person's own are said by
 * them), isolation (whose grounds are offered), beside(line) nodes that belong to a line,
 * override(line) words, done() once one is given.
 */
export function linesInHand(store, ui, scope, options) {
  const open = asked(options.lines);
  if (!open.length) return null;
  const line = open.find((one) => keyOf(one) === ui.inHand) ?? open[0];
  const done = options.lines.length - open.length;
  if (ui.focus === "line-in-hand") ui.focus = inHandId(options.scope);
  return [
    lineEntry(store, ui, {
      scope: options.scope,
      of: options.of,
      code: line.code,
      // A line of each person is told apart by who says it, not by an item.
      item: isEach(store.safety.book, line.code, "person") ? null : line.item,
      itemName: lineItemName(store, scope, line),
      place: `${done + 1} of ${options.lines.length}`,
      standing: line,
      again: line.state === "lapsed" ? lapsedWords(store, line) : null,
      who: isEach(store.safety.book, line.code, "person") ? personOf(store, line.item) : options.who,
      known: knownAt(store, scope, line),
      earlier: notedBefore(store, line),
      isolation: options.isolation,
      beside: options.beside?.(line),
      override: options.override?.(line),
      later: open.length > 1 ? () => later(store, ui, open, line) : null,
      done: () => {
        ui.inHand = null;
        options.done?.();
      },
    }),
    following(store, scope, open.filter((one) => one !== line)),
  ];
}

function later(store, ui, open, line) {
  const next = open[(open.indexOf(line) + 1) % open.length];
  ui.inHand = keyOf(next);
  ui.focus = "line-in-hand";
  store.changed();
}

const keyOf = ({ code, item }) => `${code}:${item ?? ""}`;

/** "Asked again: lock off, 10:40". */
export function lapsedWords(store, line) {
  const at = line.lapsed_at ? `, ${clock(line.lapsed_at, store.zone)}` : "";
  return `Asked again: ${lapseWord(store, line.lapsed_by, line.lapsed_at)}${at}.`;
}

/** What comes next is read, not pressed: one after the other. */
function following(store, scope, lines) {
  if (!lines.length) return null;
  return h(
    "details",
    { class: "more sheet lines-after" },
    h("summary", {}, `${counted(lines.length, "line")} after this one`),
    h("ol", { class: "lines" }, lines.map((line) => h("li", {}, lineWords(store, scope, line, "open")))),
  );
}

/** What stands already, folded into one line that says by whom. */
export function linesGiven(store, ui, scope, lines, name) {
  const given = standing(lines);
  if (!given.length) return null;
  const open = `given:${name}`;
  return h(
    "details",
    { class: "more lines-given", open: ui[open], ontoggle: (event) => (ui[open] = event.target.open) },
    h("summary", { "data-focus": open }, givenWords(lines, given)),
    h("ul", { class: "lines" }, given.map((line) => h("li", {}, lineWords(store, scope, line, "done")))),
  );
}

function givenWords(lines, given) {
  const apart = given.filter(({ state }) => state === "not_applicable").length;
  const aside = given.filter(({ state }) => state === "overridden").length;
  return [
    `${given.length} of ${counted(lines.length, "line")} given`,
    apart && `${apart} not applicable`,
    aside && `${aside} set aside by name`,
  ].filter(Boolean).join(" · ");
}

function lineWords(store, scope, line, shape) {
  const { text } = store.safety.book.lines[line.code];
  const item = lineItemName(store, scope, line);
  return h(
    "div",
    { class: "line line-read" },
    mark(shape),
    h(
      "div",
      {},
      h("p", {}, h("span", { class: "code" }, line.code), item && h("strong", {}, `${item}: `), text),
      shape === "done" && h("p", { class: "detail" }, saidWords(store, line)),
      line.state === "lapsed" && h("p", { class: "detail" }, lapsedWords(store, line)),
    ),
  );
}

function saidWords(store, line) {
  const noted = Object.entries(line.noted ?? {}).map(([name, value]) => labelled(store, name, value)).filter(Boolean);
  const by = `${line.by}, ${clock(line.at, store.zone)}`;
  if (line.state === "not_applicable") return `Does not apply: ${line.reason} · ${by}`;
  if (line.state === "overridden") return `Set aside: ${line.reason} · ${by}`;
  return [by, ...noted].join(" · ");
}

function labelled(store, name, value) {
  const said = notedWords(store, name, value);
  const label = store.safety.book.fields[name]?.label ?? name;
  return said && `${label.toLowerCase()} ${said}`;
}
