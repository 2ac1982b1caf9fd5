// The picture that is drawn on: by pointer, or by the arrow keys and Enter.

import { h } from "../dom.js";
import { drawMarks } from "./marks.js";

const STEP = 20; // thousandths that an arrow key moves; a tenth of it with Shift
const LEAST = 15; // thousandths: a shorter stroke is no arrow
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class DrawingBoard {
  /** *toolOf()* is "arrow" or "text", *textOf()* the line to write, *said(words)* speaks. */
  constructor(picture, marks, { toolOf, textOf, said }) {
    Object.assign(this, { picture, marks: [...marks], toolOf, textOf, said });
    this.start = null;
    this.cursor = null;
    this.canvas = h("canvas", {
      class: "photo-board",
      tabindex: 0,
      role: "application",
      "aria-label": "Photograph: arrow keys move the cross, Enter sets the start and the tip of an arrow, or the text",
      width: picture.width,
      height: picture.height,
      onpointerdown: (event) => this.down(event),
      onpointermove: (event) => this.start && event.buttons && this.draw(this.placeOf(event)),
      onpointerup: (event) => this.up(event),
      onpointercancel: () => this.forget(),
      onkeydown: (event) => this.key(event),
    });
    this.draw();
  }

  placeOf({ clientX, clientY }) {
    const box = this.canvas.getBoundingClientRect();
    return [within(((clientX - box.left) * 1000) / box.width), within(((clientY - box.top) * 1000) / box.height)];
  }

  down(event) {
    this.cursor = null;
    this.start = this.placeOf(event);
    this.canvas.setPointerCapture(event.pointerId);
  }

  up(event) {
    if (this.start) this.set(this.start, this.placeOf(event));
  }

  key(event) {
    const step = STEPS[event.key];
    if (!step && event.key !== "Enter") return;
    event.preventDefault();
    this.cursor ??= [500, 500];
    if (step) {
      const far = event.shiftKey ? STEP / 10 : STEP;
      this.cursor = this.cursor.map((one, i) => within(one + step[i] * far));
      return this.draw(this.cursor);
    }
    if (this.toolOf() === "text" || this.start) return this.set(this.start ?? this.cursor, this.cursor);
    this.start = this.cursor;
    this.said("The arrow begins here. Move the cross to its tip and press Enter.");
    return this.draw(this.cursor);
  }

  set(from, to) {
    if (this.toolOf() === "text") this.write(to);
    else if (Math.hypot(to[0] - from[0], to[1] - from[1]) < LEAST) this.said("Draw from the start of the arrow to its tip.");
    else this.add({ kind: "arrow", from, to }, "An arrow is drawn.");
    this.forget();
  }

  write(at) {
    const text = this.textOf().trim();
    if (text) this.add({ kind: "text", at, text }, "The text is written.");
    else this.said("Type the line of text first.");
  }

  add(mark, words) {
    this.marks.push(mark);
    this.said(words);
  }

  undo() {
    this.said(this.marks.pop() ? "The last mark is taken away." : "Nothing is drawn.");
    this.forget();
  }

  forget() {
    this.start = null;
    this.draw(this.cursor);
  }

  /** Draw the picture, its marks, and the arrow that is being drawn to *tip*. */
  draw(tip = null) {
    const { width, height } = this.canvas;
    const context = this.canvas.getContext("2d");
    context.drawImage(this.picture, 0, 0, width, height);
    const begun = this.start && tip && this.toolOf() === "arrow" ? [{ kind: "arrow", from: this.start, to: tip }] : [];
    drawMarks(context, [...this.marks, ...begun], width, height);
    if (this.cursor) drawCross(context, this.cursor, width, height);
  }

  /** The picture with its marks, without the cross. */
  finished() {
    this.cursor = null;
    this.forget();
    return this.canvas;
  }
}

const within = (one) => Math.round(Math.max(0, Math.min(1000, one)));

function drawCross(context, [x, y], width, height) {
  const size = Math.max(width, height) / 40;
  const [left, top] = [(x * width) / 1000, (y * height) / 1000];
  for (const [style, thick] of [["#ffffff", 7], ["#000000", 3]]) {
    context.strokeStyle = style;
    context.lineWidth = (thick * size) / 50;
    context.strokeRect(left - size / 2, top - size / 2, size, size);
  }
}
