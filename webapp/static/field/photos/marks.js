// What is drawn on a photograph: arrows and lines of text, with places in thousandths.

const INK = "#d4001a";
const EDGE = "#ffffff";

/** Draw marks into a picture of this size. */
export function drawMarks(context, marks, width, height) {
  const size = Math.max(width, height);
  const at = ([x, y]) => [(x * width) / 1000, (y * height) / 1000];
  for (const mark of marks) {
    if (mark.kind === "arrow") drawArrow(context, at(mark.from), at(mark.to), size);
    else drawText(context, at(mark.at), mark.text, size, width);
  }
}

function drawArrow(context, [x, y], [toX, toY], size) {
  const angle = Math.atan2(toY - y, toX - x);
  const head = size / 40;
  const wing = (turn) => [toX - head * Math.cos(angle + turn), toY - head * Math.sin(angle + turn)];
  context.lineCap = "round";
  context.lineJoin = "round";
  for (const [style, thick] of [[EDGE, size / 120], [INK, size / 220]]) {
    context.strokeStyle = style;
    context.lineWidth = thick;
    context.beginPath();
    context.moveTo(x, y);
    context.lineTo(toX, toY);
    context.moveTo(...wing(0.5));
    context.lineTo(toX, toY);
    context.lineTo(...wing(-0.5));
    context.stroke();
  }
}

/** A text that would leave the picture on the right begins further left. */
function drawText(context, [x, y], text, size, width) {
  context.font = `600 ${Math.round(size / 32)}px sans-serif`;
  context.textBaseline = "middle";
  context.lineJoin = "round";
  const left = Math.max(0, Math.min(x, width - context.measureText(text).width - size / 100));
  context.strokeStyle = EDGE;
  context.lineWidth = size / 150;
  context.strokeText(text, left, y);
  context.fillStyle = INK;
  context.fillText(text, left, y);
}
