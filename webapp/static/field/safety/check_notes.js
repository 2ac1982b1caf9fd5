// Whether what has to be noted with a line is there and is of its kind.

import { fault } from "./fault.js";
import { keysNamed } from "./people.js";

/** The fields of a line that are empty or not what they should be. */
export function checkNotes(state, act, line) {
  const noted = act.noted ?? {};
  const found = line.fields.flatMap((name) => {
    const field = state.book.fields[name];
    const code = wrong(field, noted[name] ?? null);
    return code ? [fault(`noted.${name}`, code, { label: field.label })] : [];
  });
  return found.length ? found : checkDetector(state, noted);
}

function wrong({ kind, choices, required }, value) {
  if (isEmpty(value)) return required ? "note_missing" : null;
  if (kind === "number" && typeof value !== "number") return "note_number";
  if (kind === "choice" && !choices.includes(value)) return "note_choice";
  if (["person", "people"].includes(kind) && !keysNamed({ value }).size) return "note_person";
  return null;
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
