// One stop of the Tab key for a row of things; arrow keys go from one to the next.

const STEPS = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 };

/** Let arrow keys, Home and End move the focus among the buttons of *box*. */
export function rove(box) {
  const all = () => [...box.querySelectorAll("button:not([disabled])")];
  const settle = (chosen) => all().forEach((one) => (one.tabIndex = one === chosen ? 0 : -1));
  settle(all().find((one) => one.getAttribute("aria-pressed") === "true") ?? all()[0]);
  box.addEventListener("keydown", (event) => {
    const buttons = all();
    const at = buttons.indexOf(document.activeElement);
    const ends = { Home: 0, End: buttons.length - 1 };
    const to = event.key in STEPS ? at + STEPS[event.key] : ends[event.key];
    if (at === -1 || to === undefined || !buttons[to]) return;
    event.preventDefault();
    settle(buttons[to]);
    buttons[to].focus();
  });
  return box;
}
