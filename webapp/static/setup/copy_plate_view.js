// Copy a plate to its like: all of the same kind, or those that are chosen.

import { h } from "../field/dom.js";
import { copyPlate, likeOf } from "./apparatus.js";
import { button } from "./fields.js";

/** Return the offer to copy the plate of *one*; nothing where there is none like it. */
export function copyPlateView(editor, one) {
  const like = likeOf(editor.draft, one.key);
  if (!like.length) return null;
  const same = (other) => (other.plate.type ?? "") === (one.plate.type ?? "") || !other.plate.type;
  const boxes = like.map((other) => {
    const id = `like-${other.key}`;
    const box = h("input", { type: "checkbox", id, checked: same(other), value: other.key });
    box.addEventListener("change", count);
    return [box, h("label", { class: "choice", for: id }, box, h("span", null, words(other)))];
  });
  const go = button("", copy, { "data-focus": "copy-plate" });
  const chosen = () => boxes.filter(([box]) => box.checked).map(([box]) => box.value);

  function count() {
    const number = chosen().length;
    go.textContent = number === 1 ? "Copy to 1 other" : `Copy to ${number} others`;
    go.disabled = number === 0;
  }

  function copy() {
    const keys = chosen();
    editor.focus = "copy-plate";
    editor.act(
      copyPlate(editor.draft, one.key, keys),
      `copying the plate of ${one.label} to ${keys.length} others`,
    );
  }

  count();
  return h(
    "div",
    { class: "copy-plate" },
    h("p", { class: "quiet small" }, question(like, same), " Serial numbers are never copied; what is empty here stays as it is there."),
    h("p", { class: "actions" }, go),
    h(
      "details",
      { class: "more" },
      h("summary", null, "Choose which"),
      h("fieldset", null, h("legend", { class: "out-of-sight" }, "Copy the plate to"), boxes.map(([, label]) => label)),
    ),
  );
}

function question(like, same) {
  const names = like.filter(same).map((other) => other.label);
  if (!names.length) return "None of its kind is of the same type.";
  const shown = names.slice(0, 3).join(", ");
  return `Same plate on ${shown}${names.length > 3 ? ` and ${names.length - 3} more` : ""}?`;
}

function words(other) {
  const type = other.plate.type ? `, ${other.plate.type}` : "";
  return `${other.label}${type}`;
}
