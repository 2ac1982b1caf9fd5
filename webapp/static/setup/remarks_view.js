// What the ratings say of each other, with the source of each sentence.

import { h, replace } from "../field/dom.js";
import { plain } from "./draft.js";
import { send } from "./send.js";

const WAIT_MS = 400; // after the last key
const LEVELS = { "as published": "within", "look again": "marginal", "not checked": "unjudged" };

/** The sheet below the elevation: it asks the server when the draft has changed. */
export class Remarks {
  constructor(editor, sheet) {
    Object.assign(this, { editor, sheet, timer: 0, turn: 0, asked: null });
  }

  /** Ask again soon, where anything is different. */
  ask() {
    const { draft, addresses } = this.editor;
    if (!addresses.remarks || this.asked === draft) return;
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
    const rows = remarks
      ? remarks.map((one) => remarkView(one))
      : [h("p", { class: "quiet" }, faults.length ? faults[0].message : "Nothing is compared yet.")];
    replace(this.sheet, h("h2", { class: "sheet-title" }, "Ratings against each other"), rows.length ? h("div", { class: "stack-tight" }, rows) : h("p", { class: "quiet" }, "Nothing is compared yet."));
    this.sheet.hidden = false;
  }
}

function remarkView({ level, text, cite }) {
  const kind = LEVELS[level] ?? "unjudged";
  return h(
    "p",
    { class: `remark remark-${kind}` },
    h("span", { class: "strong" }, `${level}: `),
    text,
    cite && h("span", { class: "detail" }, ` ${cite}`),
  );
}
