// The screen stays on while a card is open, where the browser can do that.

let wanted = false;
let lock = null;
let asking = false;

export const canStayAwake = () => "wakeLock" in navigator;

/** Keep the screen on, or let it go off again. */
export function keepAwake(on) {
  wanted = on;
  if (on) take();
  else letGo();
}

async function take() {
  if (!canStayAwake() || lock || asking || document.visibilityState !== "visible") return;
  asking = true;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => (lock = null));
  } catch {
    lock = null; // a low battery refuses it
  }
  asking = false;
  if (!wanted) letGo();
}

function letGo() {
  lock?.release();
  lock = null;
}

document.addEventListener("visibilitychange", () => wanted && take());
