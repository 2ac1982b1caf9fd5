// Currents of a relay on both sides of its current transformer.

import { bothBases, figure } from "/offline/reader.js";
import { h } from "./dom.js";

const OF_BASE = /^(applied|measured(_ground)?(_inst)?_pickup)_a$/;

const noteOf = (rule) => rule.notes?.find(({ say }) => say === "other_base");

/** What a point says to apply: a current on both sides where the ratio is known, or a voltage. */
export function appliedWords(rule, { applied_a: amperes, applied_v: volts }) {
  if (volts !== undefined) return `${volts} V`;
  if (amperes === undefined) return "";
  const note = noteOf(rule);
  if (!note) return `${amperes} A`;
  const [primary, secondary] = bothBases(note, amperes);
  return `at the relay ${figure(secondary)} A, ${figure(primary)} A primary`;
}

/** Where a reading is a current of the relay: the ends of a band at the relay. */
export function atRelayWords(rule, low, high) {
  const note = noteOf(rule);
  if (note?.on !== "reading" || note.base !== "primary") return "";
  const [least, most] = [low, high].map((value) => figure(bothBases(note, value)[1]));
  return ` (at the relay ${least} to ${most} A)`;
}

/**
 * A button that takes what was typed on the other side over to the base of the settings;
 * null where both are one, or the ratio is not known. *text* gives what is typed.
 */
export function overTheRatio(rule, name, text, keep) {
  const note = noteOf(rule);
  const fits = OF_BASE.test(name) || (name === "reading" && note?.on === "reading");
  if (!note || !fits || note.primary === note.secondary) return null;
  const ratio = note.primary / note.secondary;
  const [sign, other, times] =
    note.base === "primary" ? ["×", "at the relay", ratio] : ["÷", "in primary amperes", 1 / ratio];
  const convert = () => {
    const value = Number(text());
    if (text().trim() !== "" && Number.isFinite(value)) keep(String(Number((value * times).toPrecision(7))));
  };
  return h(
    "button",
    { type: "button", class: "button button-quiet", onclick: convert },
    `typed ${other}: ${sign} ${figure(ratio)}`,
  );
}
