// The end of a timer by sound and vibration: a choice of the tablet, off until it is made.

import { setting } from "./kept/settings.js";

const BEEPS = [0, 0.35]; // s
const BEEP_S = 0.25;
const PITCH_HZ = 880;
const SHAKE_MS = [300, 150, 300];

let audio = null;

/** Call out that a moment has come, as the tablet was told to. */
export function callOut() {
  if (setting("vibration", false) === true) navigator.vibrate?.(SHAKE_MS);
  if (setting("sound", false) === true) beep();
}

/** Make the sound ready by a tap: a browser plays none before one. */
export function readySound() {
  audio ??= "AudioContext" in globalThis ? new AudioContext() : null;
  audio?.resume?.();
  return audio;
}

function beep() {
  const context = readySound();
  if (!context) return;
  for (const after of BEEPS) {
    const tone = new OscillatorNode(context, { frequency: PITCH_HZ });
    tone.connect(context.destination);
    tone.start(context.currentTime + after);
    tone.stop(context.currentTime + after + BEEP_S);
  }
}
