// What the ratings say of each other, with the source of each sentence.

import { h, replace } from "../field/dom.js";
import { plain } from "./draft.js";
import { placed } from "./faults.js";
import { button } from "./fields.js";
import { send } from "./send.js";

const WAIT_MS = 400; // after the last key
const MOST = 8; // remarks that are shown unfolded
const LEVELS = { "as published": "within", "look again": "marginal", "not checked": "unjudged" };

/** The sheet below the elevation: it asks the server when the draft has changed. */
export class Remarks {
  constructor(editor, sheet) {
    Object.assign(this, { editor, sheet, timer: 0, turn: 0, asked: null });
  }

  /** Ask again soon, where anything is different. */
  ask() {
    const { draft } = this.editor;
    if (!draft.cells.length || this.asked === draft) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.fetch(), WAIT_MS);
  }

  async fetch() {
    const mine = (this.turn += 1);
    const { draft, addresses, token } = this.editor;
    this.asked = draft;
    const found = await send(addresses.remarks, token, { draft: plain(draft) });
    if (mine === this.turn) this.show(found);
  }

  show({ remarks, faults = [] }) {
    const rows = (remarks ?? []).map((one) => this.remark(one));
    const [first, rest] = [rows.slice(0, MOST), rows.slice(MOST)];
    const unfolded = this.sheet.querySelector("details")?.open;
    replace(
      this.sheet,
      h("h2", { class: "sheet-title" }, "Ratings against each other"),
      h("div", { class: "stack-tight" }, rows.length ? first : h("p", { class: "quiet" }, nothing(faults))),
      rest.length > 0 &&
        h(
          "details",
          { class: "more", open: unfolded },
          h("summary", null, `${rest.length} more`),
          h("div", { class: "stack-tight" }, rest),
        ),
    );
    this.sheet.hidden = false;
  }

  remark({ level, text, cite, place }) {
    const [at] = placed(this.editor.draft, [{ field: place, message: text }]);
    const go = place && button("Show", () => this.editor.goTo(at), { class: "link" });
    return h(
      "div",
      { class: `remark remark-${LEVELS[level] ?? "unjudged"}` },
      h("p", null, h("span", { class: "strong" }, `${level}: `), text, cite && h("span", { class: "detail" }, ` ${cite}`)),
      go,
    );
  }
}

function nothing([fault]) {
  const wait = "Ratings are compared once what is entered can be read.";
  return fault ? `${wait} ${fault.message}` : "There is nothing to compare yet.";
}
