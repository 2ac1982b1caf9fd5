// One line in hand: read, what is noted with it typed or chosen, and confirmed by name.

import { h } from "../dom.js";
import { crewPeople, notedFields, peopleHere, readNoted } from "./noted_fields.js";

// A glove bounces: a second tap of the same touch is not a second statement.
const PAUSE_MS = 600;
let confirmedAt = 0;

/**
 * Draw the line that is in hand. *ask* = {
 *   scope, of, code, item,      what the act is about
 *   itemName,                   of which source, person, cell ...; none: once in its scope
 *   place,                      "3 of 7"
 *   who,                        who says it ({id, name}); none: whoever speaks on the tablet
 *   known, isolation, earlier,  {name: {value, words}} shown and not asked; whose grounds;
 *                               what was noted before, offered again
 *   again,                      why it is asked again, in words
 *   beside,                     nodes that belong to the line (a timer), above its buttons
 *   waits,                      it can neither be given nor waived yet
 *   override, overrideNames,    words of the button that sets it aside, by so many names (2)
 *   later,                      turns to another line; none: not offered
 *   done,                       runs once it is given
 * }. What is typed is kept in store.draft(of).noted.
 */
export function lineEntry(store, ui, ask) {
  return new LineEntry(store, ui, ask).draw();
}

/** What has the focus (data-focus) when a line of this scope comes into hand. */
export const inHandId = (scope) => `line-in-hand-${scope}`;

/**
 * The same, where a field of the line has to be typed: that field, so that typing is the
 * statement and one tap gives it. *known* as in an ask.
 */
export function focusOf(store, scope, code, known = {}) {
  const { lines, fields } = store.safety.book;
  const [first] = lines[code].fields.filter((name) => !(name in known));
  const typed = first && fields[first].required && ["text", "number"].includes(fields[first].kind);
  return typed ? `noted-${code}-${first}` : inHandId(scope);
}

class LineEntry {
  constructor(store, ui, ask) {
    Object.assign(this, { store, ui, ask, known: ask.known ?? {} });
    this.line = store.safety.book.lines[ask.code];
    this.title = inHandId(ask.scope);
    this.key = ask.item ? `${ask.code}:${ask.item}` : ask.code;
    const draft = store.draft(ask.of);
    draft.noted ??= {};
    draft.noted[this.key] ??= {};
    this.values = draft.noted[this.key];
    draft.aside ??= {};
    this.aside = draft.aside[this.key] ?? {};
    this.form = ui.lineForm?.key === this.key ? ui.lineForm : null;
  }

  draw() {
    const { ask, line, store } = this;
    const said = store.faultsAt(ask.of, `safety:${ask.code}`);
    return h(
      "section",
      { class: "sheet line-in-hand", "aria-label": `In hand: ${ask.code}`, id: `line-${this.key}` },
      h("p", { class: "line-place" }, h("span", { class: "code" }, ask.code), ask.place, ask.itemName && h("span", { class: "strong" }, ` · ${ask.itemName}`)),
      h("h3", { class: "line-text", id: this.title, tabindex: -1, "data-focus": this.title }, line.text),
      ask.again && h("p", { class: "line-again strong" }, ask.again),
      line.shown.map((one) => h("p", { class: "line-shown" }, one)),
      line.caution && this.caution(),
      said.length > 0 && h("p", { class: "fault", role: "alert" }, said.join(" ")),
      this.form ? this.reasonForm() : this.entry(),
      h("p", { class: "quiet small line-source" }, `Source: ${line.source}`),
    );
  }

  caution() {
    const text = this.store.safety.book.cautions[this.line.caution] ?? "";
    return h("p", { class: "notice notice-care line-caution" }, text);
  }

  entry() {
    const { ask, line, store } = this;
    const fields = notedFields(store, line.fields, this.values, {
      prefix: `noted-${ask.code}`,
      faults: this.ui.notedFaults?.[this.key],
      known: this.known,
      isolation: ask.isolation,
      onchange: () => this.changed(),
    });
    return h(
      "form",
      { class: "line-form", novalidate: true, onsubmit: (event) => this.confirm(event) },
      fields.length > 0 && h("div", { class: "noted-fields" }, fields),
      ask.earlier && this.asBefore(),
      ask.beside,
      h(
        "div",
        { class: "line-actions" },
        h("button", { type: "submit", class: "button button-main line-confirm", "data-focus": "line-confirm", "aria-describedby": this.title, disabled: ask.waits }, `Confirm ${ask.code}`),
        h("div", { class: "line-asides" }, this.asides(), this.sayer()),
      ),
    );
  }

  changed() {
    const { ask, store, ui } = this;
    if (ui.notedFaults?.[this.key] || store.faultsAt(ask.of, `safety:${ask.code}`).length) {
      delete ui.notedFaults?.[this.key];
      store.clearFaults(ask.of, `safety:${ask.code}`);
      queueMicrotask(() => store.changed());
    }
    store.saveDrafts();
  }

  /** What was noted the last time: taken over by one deliberate tap. */
  asBefore() {
    const { earlier } = this.ask;
    const take = () => {
      Object.assign(this.values, earlier.values);
      this.store.saveDrafts();
      this.store.changed();
    };
    return h("button", { type: "button", class: "button button-quiet suggestion", onclick: take }, `still ${earlier.words}`);
  }

  /** Who says it; on a tablet of two people the other says their own. */
  sayer() {
    const { ask, store } = this;
    if (ask.who) return h("p", { class: "line-sayer" }, "Said by ", h("span", { class: "strong" }, ask.who.name));
    const { speaker } = store.safety;
    const id = `said-by-${ask.scope}`;
    const people = crewPeople(store);
    if (!people.some((one) => one.name === speaker.name)) people.unshift(speaker);
    if (people.length === 1) return null;
    const choose = (name) => {
      store.safety.speaks(people.find((one) => one.name === name));
      store.changed();
    };
    return h(
      "div",
      { class: "line-sayer" },
      h("label", { for: id }, "Said by"),
      h("select", { id, "data-focus": id, value: speaker.name, onchange: (event) => choose(event.target.value) }, people.map(({ name }) => h("option", { value: name }, name))),
    );
  }

  asides() {
    const open = (kind) => () => {
      this.ui.lineForm = { key: this.key, kind };
      this.ui.focus = "line-reason";
      this.store.changed();
    };
    const aside = (kind, words) => h("button", { type: "button", class: "button", "data-focus": `aside-${kind}`, "aria-describedby": this.title, onclick: open(kind) }, words);
    return [
      !this.line.never_waived && !this.ask.waits && aside("not", "Does not apply"),
      this.ask.override && aside("override", this.ask.override),
      this.ask.later && h("button", { type: "button", class: "button button-quiet", onclick: this.ask.later }, "Leave it open ›"),
    ];
  }

  confirm(event) {
    event.preventDefault();
    if (this.ask.waits || Date.now() - confirmedAt < PAUSE_MS) return;
    const { noted, faults } = readNoted(this.store, this.line.fields, this.values, this.known);
    const [first] = Object.keys(faults);
    if (first) {
      this.ui.notedFaults = { ...this.ui.notedFaults, [this.key]: faults };
      this.ui.focus = `noted-${this.ask.code}-${first}`;
      this.store.changed();
      return;
    }
    this.give({ state: "confirmed", reason: null, noted });
  }

  give(said) {
    const { scope, of, code, item = null, who } = this.ask;
    this.send({ act: "line", scope, of, code, item, ...said, ...(who && { person: who }) });
  }

  /** Keep the act, or say why it cannot be taken; what was typed stays then. */
  send(act) {
    const { ask, store, ui } = this;
    store.clearFaults(ask.of, `safety:${ask.code}`);
    const faults = store.safety.record(act);
    if (faults.length) {
      for (const { message } of faults) store.addFault(ask.of, `safety:${ask.code}`, message);
      store.changed();
      return;
    }
    confirmedAt = Date.now();
    delete store.draft(ask.of).noted[this.key];
    delete store.draft(ask.of).aside[this.key];
    delete ui.notedFaults?.[this.key];
    ui.lineForm = null;
    store.saveDrafts();
    ui.focus = this.title;
    ask.done?.(act);
    store.changed();
  }

  reasonForm() {
    const override = this.form.kind === "override";
    const names = override ? (this.ask.overrideNames ?? 2) : 0;
    const { code } = this.ask;
    const words = override ? `Why ${code} is set aside` : `Why ${code} does not apply here`;
    return h(
      "form",
      { class: "inline-form", novalidate: true, onsubmit: (event) => this.setAside(event, names) },
      field("line-reason", words, this.aside.reason, (value) => this.keep("reason", value)),
      Array.from({ length: names }, (_, n) =>
        field(`line-name-${n}`, `${n ? "Second" : "First"} person who agrees (not the tester)`, this.aside[`agrees${n}`], (value) => this.keep(`agrees${n}`, value), peopleHere(this.store)),
      ),
      h("p", { class: "small" }, this.store.safety.book.governs),
      h(
        "div",
        { class: "actions" },
        h("button", { type: "submit", class: "button button-main" }, override ? `Set ${code} aside` : "Record that it does not apply"),
        h("button", { type: "button", class: "button button-quiet", onclick: () => this.close() }, "Cancel"),
      ),
    );
  }

  keep(name, value) {
    this.aside[name] = value;
    this.store.draft(this.ask.of).aside[this.key] = this.aside;
    this.store.saveDrafts();
  }

  close() {
    this.ui.lineForm = null;
    this.ui.focus = this.title;
    this.store.changed();
  }

  setAside(event, wanted) {
    event.preventDefault();
    const { store, ask } = this;
    const reason = this.aside.reason?.trim();
    const names = Array.from({ length: wanted }, (_, n) => this.aside[`agrees${n}`]?.trim()).filter(Boolean);
    const wrong = asideFault(reason, names, wanted, store.safety.speaker.name);
    if (wrong) {
      store.clearFaults(ask.of, `safety:${ask.code}`);
      store.addFault(ask.of, `safety:${ask.code}`, wrong);
      store.changed();
    } else if (this.form.kind === "override") this.send({ act: "override", scope: ask.scope, of: ask.of, code: ask.code, reason, names });
    else this.give({ state: "not_applicable", reason, noted: {} });
  }
}

/** What is wrong with a reason and names, in words; null when nothing is. */
function asideFault(reason, names, wanted, tester) {
  if (!reason) return "Write why.";
  const others = new Set(names.map((name) => name.toLowerCase()));
  others.delete(tester.toLowerCase());
  if (others.size < wanted) return "Two people other than the tester agree by name.";
  return null;
}

function field(id, label, value, keep, people = []) {
  return h(
    "div",
    { class: "field" },
    h("label", { for: id }, label),
    h("input", { id, "data-focus": id, autocomplete: "off", value: value ?? "", list: people.length ? `${id}-known` : null, oninput: (event) => keep(event.target.value) }),
    people.length > 0 && h("datalist", { id: `${id}-known` }, people.map(({ name }) => h("option", { value: name }))),
  );
}
