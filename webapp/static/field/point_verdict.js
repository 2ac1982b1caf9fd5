// The verdict of a point: the word, why, and what follows from it.

import { h } from "./dom.js";
import { together } from "./point_words.js";
import { capital, verdict } from "./words.js";

/** Whether the working is shown: asked for, or not within and not said just above. */
export function opened(grid, point, judgement) {
  const asked = grid.ui.why.get(point.id);
  return asked ?? (judgement.verdict !== "within" && !saidAbove(grid, point, judgement));
}

/** Whether the recorded reading above is unjudged for the same reason. */
function saidAbove(grid, point, judgement) {
  if (judgement.verdict !== "unjudged" || grid.draft.editing(point)) return false;
  const above = grid.card.points[grid.card.points.indexOf(point) - 1];
  const held = above && !grid.draft.editing(above) && grid.held.get(above.id);
  return Boolean(held) && held.judgement.reason === judgement.reason;
}

export function verdictCell(grid, point, judgement, held, previewed) {
  const open = opened(grid, point, judgement);
  return [
    verdict(judgement.verdict),
    held?.disposition && h("span", { class: "small quiet" }, `disposed: ${held.disposition.decision_text}`),
    held && previewed && previewed.verdict !== held.judgement.verdict
      ? h("span", { class: "small" }, `${previewed.verdict} beside what is typed`)
      : null,
    !open && saidAbove(grid, point, judgement) && h("span", { class: "small quiet" }, "as above"),
    h(
      "button",
      {
        type: "button",
        class: "button button-quiet why-button",
        "data-focus": `why-${point.id}`,
        "aria-expanded": String(open),
        "aria-controls": `why-${point.id}`,
        onclick: () => {
          grid.ui.why.set(point.id, !open);
          grid.judge();
        },
      },
      open ? "Close" : "Why",
      h("span", { class: "out-of-sight" }, ` ${point.label}: ${judgement.verdict}`),
    ),
  ];
}

export function explain(grid, point, judgement, held) {
  return h(
    "div",
    { class: `explained explained-${judgement.verdict}` },
    h("p", { class: "strong" }, together(`${capital(point.label)}: ${judgement.verdict}. ${judgement.reason}`)),
    h("ol", { class: "working" }, judgement.working.map((step) => h("li", {}, together(step)))),
    held && afterwards(grid, point, held, judgement),
  );
}

function afterwards(grid, point, held, judgement) {
  if (!grid.store.mayRecord || ["signed", "signing", "withdrawn"].includes(grid.card.state)) return null;
  return h(
    "div",
    { class: "actions" },
    h(
      "button",
      { type: "button", class: "button", onclick: () => again(grid, point, held) },
      "Measure again",
    ),
    judgement.verdict !== "within" &&
      h(
        "button",
        { type: "button", class: "button", onclick: () => grid.toRaise(point, held) },
        "Raise deficiency",
      ),
  );
}

function again(grid, point, held) {
  grid.draft.set(point, { text: "", unit: held.unit ?? grid.draft.unitOf(point), again: { of: held.id, reason: "" } });
  grid.ui.active = point.id;
  grid.ui.focus = grid.draft.closed ? "card-closed" : `again-${point.id}`;
  grid.store.changed();
}
