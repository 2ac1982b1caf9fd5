// Drag a cell along the floor with mouse, pen or finger.

import { CELL, placeAt, SIDE } from "./elevation.js";
import { s } from "../field/dom.js";

const BEGINS = 8; // px that a mouse moves before it is a drag
const HOLD_MS = 350; // that a finger rests before it lifts a cell: less is a scroll

/** Let cells in *floor* be dragged; *moved(key, place)* is told where one is let go. */
export function dragCells(floor, draftOf, moved) {
  let drag = null;

  floor.addEventListener("pointerdown", (event) => {
    const cell = event.target.closest("[data-cell]");
    if (!cell || event.button > 0) return;
    drag = { key: cell.dataset.cell, x: event.clientX, id: event.pointerId, lifted: false };
    if (event.pointerType === "touch") drag.timer = setTimeout(lift, HOLD_MS);
  });

  floor.addEventListener("pointermove", (event) => {
    if (!drag || event.pointerId !== drag.id) return;
    const far = Math.abs(event.clientX - drag.x) > BEGINS;
    if (!drag.lifted && far && event.pointerType === "touch") return drop();
    if (!drag.lifted && far) lift();
    if (drag?.lifted) show(placeOf(event));
  });

  floor.addEventListener("pointerup", (event) => {
    if (!drag || event.pointerId !== drag.id) return;
    const { key, lifted } = drag;
    const place = placeOf(event);
    drop();
    if (lifted) {
      // The click that follows would choose what lies under the pointer.
      floor.addEventListener("click", (click) => click.stopPropagation(), { capture: true, once: true });
      moved(key, place);
    }
  });

  floor.addEventListener("pointercancel", drop);
  floor.addEventListener("touchmove", (event) => drag?.lifted && event.preventDefault(), {
    passive: false,
  });

  function lift() {
    drag.lifted = true;
    clearTimeout(drag.timer);
    floor.classList.add("dragging");
    floor.querySelector(`[data-cell="${drag.key}"]`)?.classList.add("lifted");
  }

  function drop() {
    if (drag) clearTimeout(drag.timer);
    drag = null;
    floor.classList.remove("dragging");
    for (const one of floor.querySelectorAll(".lifted")) one.classList.remove("lifted");
    floor.querySelector(".drop-line")?.remove();
  }

  function placeOf(event) {
    const svg = floor.querySelector("svg");
    const { left, width } = svg.getBoundingClientRect();
    const scale = svg.viewBox.baseVal.width / width;
    return placeAt((event.clientX - left) * scale, draftOf().cells.length);
  }

  function show(place) {
    const svg = floor.querySelector("svg");
    const from = draftOf().cells.findIndex((cell) => cell.key === drag.key);
    const x = SIDE + (place > from ? place + 1 : place) * CELL;
    svg.querySelector(".drop-line")?.remove();
    svg.append(s("line", { class: "drop-line", x1: x, x2: x, y1: 26, y2: svg.viewBox.baseVal.height - 26 }));
  }
}
