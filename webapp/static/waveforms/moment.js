// A moment of the drawn record, chosen by pointer or keys: from there start and end are looked for.

const STEPS = 2000; // of the slider, across the drawing
const NS = "http://www.w3.org/2000/svg";

/** Milliseconds with three decimals at most. */
const said = (ms) => String(Math.round(ms * 1000) / 1000);

function begin(figure) {
  const drawing = figure.querySelector("svg");
  const form = document.querySelector(".measure-form");
  if (!drawing || !form) return;
  const { from, to, left, right } = Object.fromEntries(
    Object.entries(figure.dataset).map(([name, value]) => [name, Number(value)]),
  );
  const box = drawing.viewBox.baseVal;
  const line = document.createElementNS(NS, "line");
  line.setAttribute("class", "moment-line");
  line.setAttribute("y1", "0");
  line.setAttribute("y2", String(box.height));
  drawing.append(line);
  const { row, slider, output, button } = controls();
  figure.querySelector("figcaption").before(row);

  const moment = () => from + ((to - from) * slider.value) / STEPS;
  const show = () => {
    const x = (left + ((right - left) * slider.value) / STEPS) * box.width;
    line.setAttribute("x1", String(x));
    line.setAttribute("x2", String(x));
    output.textContent = `${said(moment() * 1000)} ms`;
    slider.setAttribute("aria-valuetext", output.textContent);
  };
  const given = Number(form.elements.after.value) / 1000;
  slider.value = given ? ((given - from) / (to - from)) * STEPS : 0;
  slider.addEventListener("input", show);
  button.addEventListener("click", () => {
    form.elements.after.value = said(moment() * 1000);
    form.requestSubmit();
  });
  const point = (event) => {
    if (event.target.closest("a")) return;
    const seen = drawing.getBoundingClientRect();
    const share = (event.clientX - seen.left) / seen.width;
    slider.value = Math.round(((share - left) / (right - left)) * STEPS);
    show();
  };
  drawing.addEventListener("pointerdown", point);
  drawing.addEventListener("pointermove", (event) => event.buttons && point(event));
  show();
}

/** The slider with its label, what it says, and the button. */
function controls() {
  const row = document.createElement("div");
  row.className = "moment";
  row.innerHTML =
    '<label for="moment">Moment (arrow keys, or a tap on the drawing)</label><output for="moment"></output>' +
    `<input type="range" id="moment" min="0" max="${STEPS}" step="1"><button type="button" class="button">Look from here</button>`;
  return {
    row,
    slider: row.querySelector("input"),
    output: row.querySelector("output"),
    button: row.querySelector("button"),
  };
}

for (const figure of document.querySelectorAll(".waveform")) begin(figure);
