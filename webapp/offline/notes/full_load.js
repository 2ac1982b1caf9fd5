/**
 * The rise of temperature at full load, as full_load.py of models/judging works it out.
 */

import { atLeast } from "../judge.js";
import { say } from "../words/catalogue.js";
import { figure, plain } from "../words/numbers.js";

const FULL_PCT = 100;

/** The rise at full load; nothing at it, above it, or under too low a load. */
export function fullLoadWords({ reading, values }, { on, from_pct: from }) {
  const load = reading.conditions[on];
  const read = values.reading;
  if (load === undefined || load === null || !read?.exact) return [];
  if (load >= FULL_PCT || !atLeast(load, from)) return [];
  const full = read.corrected * (FULL_PCT / load) ** 2;
  return [say("full_load", { rise: figure(read.corrected), load: plain(load), full: figure(full) })];
}
