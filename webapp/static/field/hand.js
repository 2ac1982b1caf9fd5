// A page that is drawn anew under a finger loses the tap: drawing waits until it is off.

const CLICK_MS = 150; // a touch screen tells of the click this long after the finger, at most
const LONGEST_MS = 2000; // what is new is not kept back for longer by a finger that rests

let isDown = false;
let waiting = [];
let timer = null;

addEventListener("pointerdown", press, true);
addEventListener("pointerup", () => freeIn(CLICK_MS), true);
addEventListener("pointercancel", free, true);
addEventListener("click", free, true); // before those who are clicked: they draw at once

/** Resolve once no finger is on the page: at once where there is none. */
export function handOff() {
  return isDown ? new Promise((done) => waiting.push(done)) : Promise.resolve();
}

function press() {
  isDown = true;
  freeIn(LONGEST_MS);
}

function freeIn(ms) {
  clearTimeout(timer);
  timer = setTimeout(free, ms);
}

function free() {
  clearTimeout(timer);
  isDown = false;
  const ready = waiting;
  waiting = [];
  for (const done of ready) done();
}
