/**
 * Moist air: a high humidity, and how far the insulation is from the dew point.
 */

import { atLeast } from "../judge.js";
import { say } from "../words/catalogue.js";
import { figure, plain, tenths } from "../words/numbers.js";

const NEAR = 1e-9;

export function humidityWords({ reading }, { high_pct: high }) {
  const humidity = reading.conditions.humidity_pct ?? null;
  if (humidity === null || !atLeast(humidity, high)) return [];
  return [say("humidity", { humidity: plain(humidity), limit: plain(high) })];
}

export function dewPointWords({ reading }, note) {
  const { conditions } = reading;
  const insulationC = conditions.temperature_c ?? null;
  const airC = conditions.air_temperature_c ?? insulationC;
  const humidity = conditions.humidity_pct ?? null;
  if (airC === null || humidity === null) return [];
  if (!(humidity > 0 && humidity <= 100)) {
    return [say("dew_point.humidity", { humidity: plain(humidity) })];
  }
  if (!(note.from_c <= airC && airC <= note.to_c)) {
    const [first, last, air] = [note.from_c, note.to_c, airC].map((value) => plain(value));
    return [say("dew_point.beyond", { first, last, air })];
  }
  // Two logarithms: the hundredth part of the smallest numbers is 0, which has none.
  const share = Math.log(humidity) - Math.log(100);
  const g = share + (note.a * airC) / (note.b_c + airC);
  const dewC = (note.b_c * g) / (note.a - g);
  const worked = workedWords(note, airC, humidity, { g, dewC });
  // Where one of the two is known, both are taken to be it.
  const equal = insulationC === null || (conditions.air_temperature_c ?? null) === null;
  return [worked, distanceWords(insulationC ?? airC, dewC, note.margin_c, equal)];
}

/** The Magnus formula with its numbers; the note cites its source (WMO-No. 8). */
function workedWords(note, airC, humidity, { g, dewC }) {
  return say("dew_point", {
    humidity: plain(humidity),
    a: plain(note.a),
    b: plain(note.b_c),
    air: plain(airC),
    g: figure(g),
    dew: tenths(dewC),
  });
}

function distanceWords(insulationC, dewC, margin, equal) {
  const above = insulationC - dewC;
  const of = { insulation: plain(insulationC) };
  const insulation = say(equal ? "dew_point.equal" : "dew_point.insulation", of);
  if (above <= NEAR) return say("dew_point.wet", { insulation });
  const parts = { insulation, above: tenths(above) };
  if (above >= margin - NEAR) return say("dew_point.above", parts);
  return say("dew_point.close", { ...parts, margin: plain(margin) });
}
