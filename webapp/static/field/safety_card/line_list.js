// The lines of one list, short: what was given by whom, what is open, what lapsed.

import { h } from "../dom.js";
import { changeWord } from "../safety/words.js";
import { mark, siteTime } from "../words.js";
import { notedWords } from "./noted_words.js";

/** Whether a line is still to be given. */
export const isOpen = ({ state }) => state === "open" || state === "lapsed";

/** Draw *lines* (LineStanding); *take(line)* takes an open one in hand, none: not offered. */
export function lineList(store, lines, inHand, take) {
  return h("ul", { class: "lines safety-lines" }, lines.map((line) => item(store, line, line === inHand, take)));
}

function item(store, line, held, take) {
  const open = isOpen(line);
  const about = stateWords(store, line);
  const words = [h("span", { class: "code" }, line.code), store.safety.book.lines[line.code].text];
  return h(
    "li",
    { class: `safety-line${open ? "" : " safety-line-given"}${held ? " safety-line-held" : ""}` },
    mark(open ? "open" : "done"),
    h(
      "div",
      {},
      open && take && !held
        ? h("button", { type: "button", class: "line-take", "data-focus": `take-${line.code}`, onclick: () => take(line) }, words)
        : h("p", { class: open ? "strong" : "" }, words, held && h("span", { class: "out-of-sight" }, ", in hand above")),
      about && h("p", { class: "quiet small" }, about),
    ),
  );
}

/** What stands of a line, in words. */
export function stateWords(store, line) {
  const at = (time) => siteTime(time, store.zone).replace(" today", "");
  if (line.state === "open") return "";
  if (line.state === "lapsed") return `asked again: ${changeWord(store, line.lapsed_by)}, ${at(line.lapsed_at)}`;
  const by = `${line.by}, ${at(line.at)}`;
  if (line.state === "not_applicable") return `does not apply: ${line.reason} · ${by}`;
  if (line.state === "overridden") return `set aside: ${line.reason} · ${by}`;
  return [by, notedWords(store, line.noted)].filter(Boolean).join(" · ");
}
