// The plate of an apparatus, or of the lineup: a field for each thing that it can say.

import { h } from "../field/dom.js";
import { readPlate, shown } from "./read_plate.js";

const FAULT_MS = 700; // after the last key: half a word is not wrong yet
const OPEN = new Set(["identity", "ratings", "settings"]);
const GAS_INSULATED = "gas_insulated";
const WIDE = new Set(["maker", "type"]);
const unfolded = new Map(); // what somebody has opened or closed stays so

/**
 * Return the groups of fields of a plate.
 *
 * *plate*: {kind, values, typed, place, id}; *change(field, read, text)* is told what was
 * read; *faults* by `place.field`. What is rarely given is folded while nothing is in it.
 */
export function plateView(vocabulary, plate, { change, faults, hz, gear }) {
  return vocabulary.plates[plate.kind].map(({ key, title, fields }) => {
    const names = fields.filter((name) => fits(name, plate, gear));
    if (!names.length) return null;
    const rows = names.map((name) =>
      plateField(vocabulary.fields[name], plate, { change, faults, hz }),
    );
    const grid = h("div", { class: "plate-grid" }, rows);
    if (OPEN.has(key)) return [h("h3", { class: "plate-head" }, title), grid];
    const filled = names.filter((name) => name in plate.values || name in plate.typed).length;
    const summary = filled ? `${title} · ${filled} given` : title;
    const name = `${plate.kind} ${key}`;
    const open = unfolded.get(name) ?? filled > 0;
    const keep = (event) => unfolded.set(name, event.target.open);
    return h("details", { class: "more", open, ontoggle: keep }, h("summary", null, summary), grid);
  });
}

/** Gas is asked for where there is gas; what is given is shown anyhow. */
function fits(name, { kind, values, typed }, gear) {
  const ofGas = name === "gas" || name.startsWith("gas_") || name === "moisture_limit_c";
  return !ofGas || gear === GAS_INSULATED || kind === "gas_tank" || name in values || name in typed;
}

/** Return one field with its label, its unit and what is wrong with it. */
export function plateField(field, plate, { change, faults, hz }) {
  const id = `${plate.id}-${field.name}`;
  const focus = `${plate.place}.${field.name}`;
  const text = plate.typed[field.name] ?? shown(field, plate.values[field.name]);
  const box = h("div", {
    class: `field plate-field${WIDE.has(field.name) ? " plate-wide" : ""}`,
  });
  const fault = h("span", { class: "fault", id: `${id}-fault`, role: "status" });
  const input = entry(field, { id, "data-focus": focus, value: text, "aria-describedby": `${id}-fault` });
  let timer = 0;

  const say = (words) => {
    fault.textContent = words ?? "";
    box.classList.toggle("field-faulty", Boolean(words));
    input.setAttribute("aria-invalid", String(Boolean(words)));
  };
  const read = (settled) => {
    clearTimeout(timer);
    const found = readPlate(field, input.value, hz());
    change(field.name, found);
    if (found.fault && !settled) timer = setTimeout(() => say(found.fault), FAULT_MS);
    else say(found.fault);
    if (settled && !found.fault && found.value !== null) input.value = shown(field, found.value);
  };
  input.addEventListener("input", () => read(false));
  input.addEventListener("change", () => read(true));

  const unread = field.name in plate.typed ? readPlate(field, text, hz()).fault : "";
  say(faults.get(focus) ?? unread);
  const unit = field.unit && h("span", { class: "unit", "aria-hidden": "true" }, field.unit);
  const label = h("label", { for: id }, field.label, field.unit && h("span", { class: "out-of-sight" }, `, ${field.unit}`));
  box.append(label, h("div", { class: "unit-box" }, input, unit), fault);
  return box;
}

function entry(field, attributes) {
  if (field.kind === "choice") return select(Object.entries(field.choices), attributes);
  if (field.kind === "yes_no") return select([["yes", "yes"], ["no", "no"]], attributes);
  const mode = field.kind === "number" ? (field.many ? "text" : "decimal") : "text";
  return h("input", { ...attributes, inputmode: mode, autocomplete: "off", spellcheck: "false" });
}

function select(choices, attributes) {
  const options = choices.map(([value, words]) => h("option", { value }, words));
  return h("select", attributes, h("option", { value: "" }, "not said"), options);
}
