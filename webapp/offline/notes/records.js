/**
 * Records of a breaker's shot: marks of a coil's current, figures of the travel.
 */

import { coilMarks, markPoints, MARKS, marksInForce, travelFigures } from "../record_marks.js";
import { rowOf } from "../rows.js";
import { say } from "../words/catalogue.js";
import { figure, plain } from "../words/numbers.js";

export function coilMarksWords(state) {
  const steps = rowOf(state, "coil_record");
  if (steps === null) return [];
  if (steps.length === 0) return [say("series.unreadable", { series: say("series.coil_record") })];
  const { conditions } = state.reading;
  const marks = marksInForce(coilMarks(markPoints(steps)), conditions);
  const said = MARKS.filter((mark) => mark in marks).map((mark) =>
    say(`mark_${mark}_ms` in conditions ? "marks.set" : "marks.found", {
      mark: say(`mark.${mark}`),
      at: figure(marks[mark]),
    }),
  );
  return [said.length ? say("marks", { marks: said.join(", ") }) : say("marks.none"), ...orderWords(marks)];
}

function orderWords(marks) {
  const names = Object.keys(marks);
  if (names.every((mark, n) => n === 0 || marks[mark] >= marks[names[n - 1]])) return [];
  return [say("marks.order", { order: names.map((mark) => say(`mark.${mark}`)).join(", ") })];
}

export function travelWords(state, { from_mm: from, to_mm: to }) {
  const steps = rowOf(state, "travel");
  if (steps === null) return [];
  if (steps.length === 0) return [say("series.unreadable", { series: say("series.travel") })];
  const found = travelFigures(markPoints(steps), from === null ? null : [from, to]);
  if (!found) return [say("travel.still")];
  const { stroke, overtravel, rebound, speed } = found;
  const figures = { stroke: figure(stroke), overtravel: figure(overtravel), rebound: figure(rebound) };
  return [say("travel", figures), ...speedWords(speed, from, to)];
}

function speedWords(speed, from, to) {
  if (from === null) return [];
  const parts = { first: plain(from), last: plain(to) };
  if (speed === null) return [say("travel.no_speed", parts)];
  return [say("travel.speed", { ...parts, speed: figure(speed) })];
}
