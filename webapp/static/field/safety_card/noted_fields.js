// The fields of a line or of a register's item: what is noted, with the right keypad.

import { h } from "../dom.js";
import { readField } from "../read_field.js";
import { clockAt, endOf, momentOf } from "./site_clock.js";

const FEW = 4; // so many choices stand side by side, more in a list
const OTHER = "other"; // somebody whom the site does not know

/**
 * Draw the fields *names* of the book. *values* (by name, as typed) is written to as one
 * types; *onchange* runs then. *options*: prefix of the ids, faults by name, isolation id
 * whose grounds are offered, known values by name ({value, words}: shown, not asked).
 */
export function notedFields(store, names, values, options = {}) {
  const { known = {} } = options;
  return names.map((name) =>
    name in known
      ? shownField(store.safety.book.fields[name], known[name])
      : new NotedField(store, name, values, options).node,
  );
}

/** Return {noted, faults} of what is typed: values as an act carries them, faults by name. */
export function readNoted(store, names, values, known = {}) {
  const noted = {};
  const faults = {};
  for (const name of names) {
    const field = store.safety.book.fields[name];
    const { value, fault } = name in known ? known[name] : readOne(store, name, field, values[name]);
    if (fault) faults[name] = fault;
    else if (value !== undefined) noted[name] = value;
    else if (field.required) faults[name] = wantedWords(field);
  }
  return { noted, faults };
}

/** Whether a time is that of the act itself: then now stands in its field. */
const isNow = (name) => !/(^|_)(ends?|until|due)(_|$)/.test(name);

function wantedWords({ label, kind }) {
  const verb = ["choice", "person", "people", "grounds", "cell"].includes(kind) ? "Choose" : "Type";
  return `${verb}: ${label.toLowerCase()}.`;
}

function readOne(store, name, field, typed) {
  if (field.kind === "time") return readTime(store, name, field, typed);
  if (field.kind === "person") return { value: namedPerson(typed) };
  if (field.kind === "people") {
    const people = (typed ?? []).map(namedPerson).filter(Boolean);
    return { value: people.length ? people : undefined };
  }
  if (field.kind === "grounds") return { value: typed?.length ? typed : undefined };
  const text = String(typed ?? "").trim();
  if (!text) return {};
  return field.kind === "number" ? readField({ ...field, refusal: "" }, text) : { value: text };
}

function readTime(store, name, { label }, typed) {
  if (typed === undefined && isNow(name)) return { value: new Date(store.safety.now()).toISOString() };
  if (!typed) return {};
  if (isMoment(typed)) return { value: typed };
  const read = isNow(name) ? momentOf : endOf;
  const value = read(typed, store.safety.now(), store.zone);
  return value ? { value } : { fault: `${label}: type the time of day, such as 09:12.` };
}

/** Whether a value stands as an act carries it: it came back from the server. */
const isMoment = (typed) => typed.includes("T");

function namedPerson(typed) {
  const name = typed?.name?.trim();
  return name ? { id: typed.id ?? null, name } : undefined;
}

/** What the program knows is shown where it would be asked. */
function shownField({ label }, { words }) {
  return h("div", { class: "noted-field noted-known" }, h("span", { class: "label" }, label), h("span", { class: "noted-value" }, words));
}

/** The people who are signed in to a crew of the site now, once each. */
export function crewPeople(store) {
  const crews = store.safety.site().crews.filter(({ state }) => state !== "ended");
  const here = crews.flatMap(({ people }) => people.filter((one) => one.since && !one.left));
  return onceEach(here.map(({ key, name }) => ({ id: key.startsWith("name:") ? null : key, name })));
}

/** The people that can be meant: those of a crew of now first, then the site's. */
export function peopleHere(store) {
  return onceEach([...crewPeople(store), ...store.safety.book.people]);
}

const onceEach = (people) => [...new Map(people.map((one) => [one.name, one])).values()];

/** The grounds that are on the register of an isolation, or of all of them. */
function groundsOf(store, isolation) {
  const all = store.safety.site().isolations;
  return all.filter((one) => !isolation || one.of === isolation).flatMap((one) => one.grounds.filter(({ fields }) => !fields.gone));
}

/** Return a ground in words: its number, and where it is. */
export function groundWords({ item, fields }) {
  return [fields.number ?? item, fields.place].filter(Boolean).join(", ");
}

class NotedField {
  constructor(store, name, values, { prefix = "noted", faults = {}, isolation, onchange }) {
    const field = store.safety.book.fields[name];
    Object.assign(this, { store, name, field, values, isolation, onchange });
    this.id = `${prefix}-${name}`;
    this.fault = faults[name];
    this.node = ["grounds", "people"].includes(field.kind) || this.isButtons() ? this.group() : this.single();
  }

  isButtons() {
    return this.field.kind === "choice" && this.field.choices.length <= FEW;
  }

  get value() {
    return this.values[this.name];
  }

  keep(value, drawAgain = false) {
    this.values[this.name] = value;
    this.onchange?.(this.name);
    if (drawAgain) this.store.changed();
  }

  heading() {
    const { label, required } = this.field;
    return [label, required ? "" : h("span", { class: "quiet" }, " (if any)")];
  }

  said() {
    return h("span", { class: "fault", id: `${this.id}-fault`, role: "alert", hidden: !this.fault }, this.fault ?? "");
  }

  about() {
    return { id: this.id, "data-focus": this.id, "aria-describedby": `${this.id}-fault` };
  }

  single() {
    return h(
      "div",
      { class: `noted-field noted-${this.field.kind}` },
      h("label", { for: this.id }, this.heading()),
      this.entry(),
      this.said(),
    );
  }

  group() {
    const kinds = { grounds: () => this.grounds(), people: () => this.people(), choice: () => this.buttons() };
    return h(
      "fieldset",
      { class: `noted-field noted-${this.field.kind}`, "aria-describedby": `${this.id}-fault` },
      h("legend", {}, this.heading()),
      kinds[this.field.kind](),
      this.said(),
    );
  }

  entry() {
    const kinds = { choice: () => this.list(this.field.choices.map((one) => [one, shown(one)])), cell: () => this.cells(), person: () => this.person() };
    return (kinds[this.field.kind] ?? (() => this.typed()))();
  }

  typed() {
    const { kind, unit } = this.field;
    const first = kind === "time" && isNow(this.name) ? clockAt(this.store.safety.now(), this.store.zone) : "";
    const input = h("input", {
      ...this.about(),
      type: "text",
      inputmode: { number: "decimal", time: "numeric" }[kind],
      autocomplete: "off",
      value: this.shownText() ?? first,
      oninput: (event) => this.keep(event.target.value),
    });
    return unit ? h("div", { class: "with-unit" }, input, h("span", { class: "unit" }, unit)) : input;
  }

  shownText() {
    const { store, value } = this;
    return this.field.kind === "time" && value && isMoment(value) ? clockAt(Date.parse(value), store.zone) : value;
  }

  list(choices) {
    return h(
      "select",
      { ...this.about(), value: this.value ?? "", onchange: (event) => this.keep(event.target.value) },
      h("option", { value: "" }, "choose"),
      choices.map(([value, words]) => h("option", { value }, words)),
    );
  }

  cells() {
    return this.list(this.store.doc.cells.map((cell) => [cell.id, `Cell ${cell.number} ${cell.name}`]));
  }

  buttons() {
    return h(
      "div",
      { class: "outcomes" },
      this.field.choices.map((choice, index) =>
        h(
          "button",
          {
            type: "button",
            class: "outcome",
            "data-focus": index ? `${this.id}-${index}` : this.id,
            "aria-pressed": String(this.value === choice),
            onclick: () => this.keep(this.value === choice ? undefined : choice, true),
          },
          shown(choice),
        ),
      ),
    );
  }

  /** One who is known here, or somebody else by name. */
  person() {
    const here = peopleHere(this.store);
    const known = here.find((one) => sameName(one, this.value))?.name;
    const other = !known && this.value ? OTHER : undefined;
    const choose = (name) => this.keep(name === OTHER ? { id: null, name: "" } : here.find((one) => one.name === name), true);
    return h(
      "div",
      { class: "noted-person-entry" },
      h(
        "select",
        { ...this.about(), value: known ?? other ?? "", onchange: (event) => choose(event.target.value) },
        h("option", { value: "" }, "choose"),
        here.map(({ name }) => h("option", { value: name }, name)),
        h("option", { value: OTHER }, "somebody else"),
      ),
      other &&
        h("input", {
          type: "text",
          autocomplete: "off",
          "data-focus": `${this.id}-name`,
          "aria-label": `${this.field.label}: name`,
          value: this.value.name,
          oninput: (event) => this.keep({ id: null, name: event.target.value }),
        }),
    );
  }

  grounds() {
    const grounds = groundsOf(this.store, this.isolation);
    if (!grounds.length) {
      return h("p", { class: "quiet" }, "No ground is on the register. ", h("a", { href: "#/safety/isolation" }, "Put it on the register"));
    }
    // Where there is one ground, no other can be meant.
    if (grounds.length === 1) this.values[this.name] ??= [grounds[0].item];
    return this.boxes(grounds.map((one) => [one.item, groundWords(one)]), (item) => item);
  }

  people() {
    const here = peopleHere(this.store);
    return this.boxes(here.map(({ name }) => [name, name]), (name) => here.find((one) => one.name === name), (one) => one.name);
  }

  boxes(choices, valueOf, keyOf = (value) => value) {
    const held = () => this.value ?? [];
    return choices.map(([key, words], index) =>
      h(
        "label",
        { class: "choice" },
        h("input", {
          type: "checkbox",
          id: index ? null : this.id,
          "data-focus": index ? `${this.id}-${index}` : this.id,
          checked: held().some((one) => keyOf(one) === key),
          onchange: (event) => {
            const others = held().filter((one) => keyOf(one) !== key);
            this.keep(event.target.checked ? [...others, valueOf(key)] : others);
          },
        }),
        h("span", {}, words),
      ),
    );
  }
}

const sameName = (one, other) => other && one.name === other.name;

/** A choice as it is read: portable_set as "portable set". */
function shown(choice) {
  return choice.replaceAll("_", " ");
}
