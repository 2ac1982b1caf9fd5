/**
 * Moist air: a high humidity, and how far the insulation is from the dew point.
 */

import { atLeast } from "../judge.js";
import { figure, plain, tenths } from "../words/numbers.js";

const NEAR = 1e-9;

export function humidityWords({ reading }, { high_pct: high }) {
  const humidity = reading.conditions.humidity_pct ?? null;
  if (humidity === null || !atLeast(humidity, high)) return [];
  return [
    `Humidity: ${plain(humidity)} % is not below ${plain(high)} %: a film of moisture on ` +
      "the surfaces may spoil the result. Clean, dry or warm them before a bad one is held " +
      "against the insulation.",
  ];
}

export function dewPointWords({ reading }, note) {
  const { conditions } = reading;
  const insulationC = conditions.temperature_c ?? null;
  const airC = conditions.air_temperature_c ?? insulationC;
  const humidity = conditions.humidity_pct ?? null;
  if (airC === null || humidity === null) return [];
  if (!(humidity > 0 && humidity <= 100)) {
    return [`Dew point: a relative humidity of ${plain(humidity)} % cannot be.`];
  }
  if (!(note.from_c <= airC && airC <= note.to_c)) {
    return [
      `Dew point: the formula holds from ${plain(note.from_c)} to ${plain(note.to_c)} °C, ` +
        `and the air has ${plain(airC)} °C.`,
    ];
  }
  // Two logarithms: the hundredth part of the smallest numbers is 0, which has none.
  const share = Math.log(humidity) - Math.log(100);
  const g = share + (note.a * airC) / (note.b_c + airC);
  const dewC = (note.b_c * g) / (note.a - g);
  const said = [worked(note, airC, humidity, { g: figure(g), dewC })];
  if (insulationC === null) return said;
  const one = (conditions.air_temperature_c ?? null) === null;
  return [...said, distance(insulationC, dewC, note.margin_c, one)];
}

/** The Magnus formula with its numbers; the note cites its source (WMO-No. 8). */
function worked(note, airC, humidity, { g, dewC }) {
  const [a, b, air] = [note.a, note.b_c, airC].map((value) => plain(value));
  return (
    `Dew point: g = ln(${plain(humidity)} / 100) + ${a} × ${air} / (${b} + ${air}) = ${g}; ` +
    `${b} × ${g} / (${a} − ${g}) = ${tenths(dewC)} °C (Magnus formula).`
  );
}

function distance(insulationC, dewC, margin, one) {
  const above = insulationC - dewC;
  const taken = one ? " (air and insulation are taken to be equally warm)" : "";
  const said = `The insulation at ${plain(insulationC)} °C${taken} is`;
  if (above <= NEAR) {
    return (
      `${said} not above the dew point: water settles on it. Do not test; warm or dry the ` +
      "gear first."
    );
  }
  const far = `${said} ${tenths(above)} K above the dew point`;
  if (above >= margin - NEAR) return `${far}.`;
  return (
    `${far}, less than ${plain(margin)} K: moisture may settle on it. Warm or dry the gear ` +
    "before a bad result is held against the insulation."
  );
}
