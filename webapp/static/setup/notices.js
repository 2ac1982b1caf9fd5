// What the editor has to tell above the drawing: each gives a function that draws it.

import { h } from "../field/dom.js";
import { opened } from "./draft.js";
import { button } from "./fields.js";
import { keptAt } from "./keep_draft.js";
import { sentenceOf } from "./send.js";

const MOST = 12; // faults that are listed

/** An unsaved draft was found on this device. */
export function keptNotice(editor, at) {
  return () =>
    h(
      "div",
      { class: "notice notice-care notice-row" },
      h("p", null, `Unsaved draft of ${keptAt(at)}, from this device.`),
      button("Drop it", () => editor.dropKept()),
    );
}

/** The faults, each a way to its field. */
export function faultNotice(editor, faulty) {
  return () => {
    const left = editor.faulty;
    if (!left.length) return h("div", { class: "notice" }, h("p", null, "Save again: what was wrong is changed."));
    const more = left.length - MOST;
    return h(
      "div",
      { class: "notice notice-fault", role: "alert" },
      h("p", { class: "strong" }, faulty.length === 1 ? "One thing is wrong; nothing is saved yet." : `${faulty.length} things are wrong; nothing is saved yet.`),
      h(
        "ul",
        { class: "fault-list" },
        left.slice(0, MOST).map((one) =>
          h("li", null, h("button", { type: "button", class: "link", onclick: () => editor.goTo(one) }, one.message)),
        ),
        more > 0 && h("li", null, `and ${more} more`),
      ),
    );
  };
}

/** Plates of tested gear are changed for a reason. */
export function reasonNotice(editor, faults, again) {
  return () =>
    h(
      "div",
      { class: "notice notice-care" },
      h("p", { class: "strong" }, faults.map((one) => one.message).join(" ")),
      h(
        "div",
        { class: "field" },
        h("label", { for: "reason" }, "Why the plates are changed"),
        h("textarea", {
          id: "reason",
          "data-first": true,
          "data-focus": "reason",
          rows: 2,
          value: editor.reason,
          oninput: (event) => {
            editor.reason = event.target.value;
          },
        }),
      ),
      h("p", { class: "actions" }, button("Save with this reason", again, { class: "button button-main" })),
    );
}

/** Somebody else saved in the meantime: both are there, and one is chosen. */
export function conflictNotice(editor, { theirs, version, faults }, again) {
  const take = () => {
    editor.version = version;
    editor.notice = null;
    editor.stored = opened(theirs);
    editor.begin(theirs, "taking what the other person saved");
  };
  return () =>
    h(
      "div",
      { class: "notice notice-care", role: "alert", tabindex: -1 },
      h("p", { class: "strong" }, faults.map((one) => one.message).join(" ")),
      h("p", null, "Both are kept: theirs is saved, yours is on this page and on this device. Take theirs, and Undo brings yours back; or save yours in its place."),
      h(
        "p",
        { class: "actions" },
        button("Take theirs", take, { "data-first": true }),
        button("Save mine in its place", () => again(version)),
      ),
    );
}

/** The server did not take it, for a reason that is not in the draft. */
export function sentNotice(answer) {
  return () => h("div", { class: "notice notice-fault", role: "alert", tabindex: -1 }, h("p", null, sentenceOf(answer)));
}
