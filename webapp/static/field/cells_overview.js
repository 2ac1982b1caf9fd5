// All cells of a lineup at a glance, where its elevation is wider than a tablet.

import { h } from "./dom.js";
import { mark } from "./words.js";

const FEW = 6; // as many as an upright tablet shows of the elevation

/** Draw one small plate a cell; null where the elevation shows them all. *plates*: as elevation(). */
export function cellsOverview(doc, plates, chosen, hrefOf) {
  if (doc.cells.length <= FEW) return null;
  const drawn = h(
    "nav",
    { class: "cells-overview", "aria-label": "All cells" },
    h("ul", {}, doc.cells.map((cell) => h("li", {}, plate(cell, plates.get(cell.id), cell.id === chosen, hrefOf)))),
  );
  // All plates are as wide as the longest number asks for: they stay in columns.
  drawn.style.setProperty("--longest", Math.max(...doc.cells.map((cell) => String(cell.number).length)));
  return drawn;
}

function plate(cell, { text, share, findings }, is, hrefOf) {
  const worst = ["outside", "unjudged", "marginal"].find((word) => findings.some(([one]) => one === word));
  const found = findings.map(([word, count]) => `, ${count} ${word}`).join("");
  return h(
    "a",
    { href: hrefOf(cell), "data-focus": `overview:${cell.id}`, "aria-current": is ? "true" : null, class: share === 1 ? "overview-done" : null },
    h("span", { class: "strong" }, String(cell.number)),
    mark(worst ?? (share === 1 ? "done" : "open")),
    h("span", { class: "out-of-sight" }, ` ${cell.name}: ${text}${found}`),
  );
}

/** Bring the chosen cell of the elevation into its frame, and it alone. */
export function showChosen(frame) {
  requestAnimationFrame(() => {
    const cell = frame.querySelector('.elevation [aria-current="true"]');
    if (!cell) return;
    const at = cell.getBoundingClientRect();
    const box = frame.getBoundingClientRect();
    frame.scrollLeft += at.left + at.width / 2 - (box.left + box.width / 2);
  });
}
