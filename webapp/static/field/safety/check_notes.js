// Whether what has to be noted with a line is there and is of its kind.

import { fault } from "./fault.js";
import { keysNamed } from "./people.js";
import { millisecondsOrNull } from "./times.js";

/** The fields of a line that are empty or not what they should be. */
export function checkNotes(state, act, line, at) {
  const noted = act.noted ?? {};
  const found = line.fields.flatMap((name) => {
    const field = state.book.fields[name];
    const code = wrong(state, field, noted[name] ?? null);
    return code ? [fault(`noted.${name}`, code, { label: field.label })] : [];
  });
  if (found.length) return found;
  const over = checkPermit(noted, at);
  return over.length ? over : checkDetector(state, noted);
}

/** That a permit has ended already. */
function checkPermit(noted, at) {
  const end = millisecondsOrNull(noted.permit_end);
  return end !== null && end <= at ? [fault("noted.permit_end", "permit_over")] : [];
}

function wrong(state, { kind, choices, required }, value) {
  if (isEmpty(value)) return required ? "note_missing" : null;
  if (kind === "grounds" && !onARegister(state, value)) return "note_ground";
  if (kind === "cell" && state.places.lineup(value) === null) return "note_cell";
  if (kind === "number" && typeof value !== "number") return "note_number";
  if (kind === "choice" && !choices.includes(value)) return "note_choice";
  if (["person", "people"].includes(kind) && !keysNamed({ value }).size) return "note_person";
  return null;
}

/** Whether each ground stands on the register of a clearance. */
function onARegister(state, grounds) {
  const items = [...state.isolations.keys()].flatMap((isolation) => state.register("ground", isolation));
  const known = items.map(({ item }) => item);
  return Array.isArray(grounds) && grounds.every((ground) => known.includes(ground));
}

function isEmpty(value) {
  if (value === null) return true;
  return typeof value === "string" ? !value.trim() : Array.isArray(value) && !value.length;
}

/** That a detector is none of those on the crews' registers, if any are. */
function checkDetector(state, noted) {
  const crews = [...state.crews.values()].filter(({ ended }) => ended === null);
  const sets = crews.flatMap(({ id }) => state.register("set", id));
  const known = sets.filter(({ fields }) => fields.set_kind === "detector");
  const named = word(noted.detector);
  if (!named || !known.length || known.some((item) => namesOf(item).includes(named))) return [];
  const shown = known.map(({ item, fields }) => String(fields.name || item));
  return [fault("noted.detector", "detector_unknown", { known: shown })];
}

const namesOf = ({ item, fields }) => [item, fields.name, fields.serial].filter(Boolean).map(word);

const word = (value) => String(value ?? "").trim().toLowerCase();
