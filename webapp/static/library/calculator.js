// The calculator while one types: the same rule and the same reader as on the server.

import { checkReading, InputError, judge } from "/offline/reader.js";
import { readField } from "/static/field/read_field.js";
import { readRows, rowText } from "/static/field/series.js";
import { curveOf } from "/static/field/curve.js";
import { showAnswer, showNothing } from "./answer.js";
import { clearFaults, showFaults } from "./faults.js";

const WAIT_MS = 350; // after the last key
const UNREACHED =
  "The rule could not be fetched: no signal, or you are no longer signed in. " +
  "Press Judge to try again.";
const form = document.getElementById("calculator");
const answer = document.getElementById("answer");
const procedure = JSON.parse(form.dataset.procedure);
const rules = new Map(); // what was asked -> what the server answered
let timer = 0;
let turn = 0;

form.addEventListener("input", () => {
  window.clearTimeout(timer);
  timer = window.setTimeout(work, WAIT_MS);
});

function text(name) {
  return (form.elements[name]?.value ?? "").trim();
}

function fieldsOf(part) {
  return [...form.querySelectorAll(`[data-part="${part}"] input, [data-part="${part}"] select`)];
}

async function work() {
  const mine = (turn += 1);
  clearFaults(form);
  if (!text("value") && !text("outcome")) return showNothing(answer, "Nothing is typed yet.");
  const faults = [];
  const items = readings(faults);
  let found;
  try {
    found = await fetchRule();
  } catch {
    if (mine !== turn) return undefined;
    return showNothing(answer, UNREACHED);
  }
  if (mine !== turn) return undefined;
  faults.push(...(found.faults ?? []));
  if (faults.length) {
    showFaults(form, faults);
    return showNothing(answer, "Something that was typed cannot be read: see the fields.");
  }
  const [judgement] = judge(
    items.map((reading) => ({ rule: found.rule, reading })),
    { [procedure.name]: procedure },
  );
  const { text: typed, unit, conditions } = items[0];
  const point = { label: "reading", text: typed, unit, verdict: judgement.verdict, ...conditions };
  return showAnswer(answer, judgement, typed, found.tables, curveOf(found.rule, point));
}

/** Return the reading and those that it is compared with; put what is wrong to *faults*. */
function readings(faults) {
  const conditions = numbers("conditions", faults);
  const accuracy = accuracyOf(faults);
  const found = [];
  for (const [name, typed] of texts(faults)) {
    try {
      const { unit } = checkReading(procedure, typed, text("unit") || null);
      found.push({ key: name, text: typed, unit, accuracy: unit ? accuracy : null, conditions });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      for (const fault of error.faults) {
        faults.push({ ...fault, field: fault.field === "value" ? name : fault.field });
      }
    }
  }
  return found;
}

function texts(faults) {
  if (text("value") && text("outcome")) {
    faults.push({ field: "outcome", message: "Give a number or an outcome, not both." });
    return [];
  }
  const first = text("outcome") ? "outcome" : "value";
  const others = ["other_1", "other_2"].filter(text);
  return [first, ...others].map((name) => [name, text(name)]);
}

function accuracyOf(faults) {
  if (!text("accuracy_pct") && !text("accuracy_fixed")) return null;
  const part = (name) => {
    const field = form.elements[name];
    return field?.value.trim() ? byField(field, faults) : 0;
  };
  return { pct: part("accuracy_pct"), fixed: part("accuracy_fixed"), unit: null };
}

function numbers(part, faults) {
  const found = {};
  for (const field of fieldsOf(part)) {
    const typed = field.value.trim();
    if (!typed) continue;
    const read = "row" in field.dataset ? rowIn : byField;
    const chosen = field.tagName === "SELECT" && !("field" in field.dataset);
    const value = chosen ? typed : read(field, faults);
    if (value !== null) found[field.name] = value;
  }
  return found;
}

function byField(field, faults) {
  const { value, fault } = readField(JSON.parse(field.dataset.field), field.value.trim());
  if (fault === undefined) return value;
  faults.push({ field: field.name, message: fault });
  return null;
}

/** Return a row of readings as it is sent; null where a reading of it is wrong. */
function rowIn(field, faults) {
  const pairs = field.value.trim().split(/\s+/);
  const { steps, faults: wrong } = readRows(pairs.map((pair) => halves(pair)));
  const [message] = wrong.values();
  if (!message && steps.length === pairs.length) return rowText(steps);
  const odd = pairs.find((pair) => halves(pair).includes(""));
  const form = `'${odd}' is no reading of the row: write 60:3.0, a colon between the two.`;
  faults.push({ field: field.name, message: odd === undefined ? message : form });
  return null;
}

function halves(pair) {
  const [at, ...rest] = pair.split(":");
  return [at, rest.join(":")];
}

/** Return {rule, tables} or {faults} for the chosen subject; each is asked for once. */
async function fetchRule() {
  const asked = new URLSearchParams({ procedure: procedure.name, unit: text("unit") });
  for (const field of fieldsOf("subject")) {
    if (field.value.trim()) asked.set(field.name, field.value.trim());
  }
  const key = asked.toString();
  if (!rules.has(key)) {
    const response = await fetch(`${form.dataset.rule}?${key}`, {
      headers: { Accept: "application/json" },
    });
    if (!response.ok && response.status !== 422) throw new Error(`answer ${response.status}`);
    rules.set(key, await response.json());
  }
  return rules.get(key);
}
