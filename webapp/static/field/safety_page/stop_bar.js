// Stop work: one press on every page; in force the same bar is the banner.

import { h, replace } from "../dom.js";
import { newKey } from "../new_key.js";
import { clock } from "./names.js";

const SAID = "Stop by voice and at the switch first. This button stops entries only; it switches nothing off and calls nobody.";

const NAMED = 3; // tablets that have not heard it, the latest at work first

/** Draw the bar as it is now; *ui* remembers whether the release is being written. */
export function drawStopBar(store, bar, ui) {
  if (!store.safety) return;
  const { stop } = store.safety.site();
  if (!stop) ui.release = null;
  const shown = JSON.stringify([stop, stop && heardWords(store, stop), ui.release]);
  // Drawn again unchanged, a screen reader would say it again.
  if (shown === ui.shown) return;
  ui.shown = shown;
  bar.className = stop ? "stop-bar stop-bar-in-force" : "stop-bar";
  replace(bar, stop ? inForce(store, ui, stop) : ready(store, ui));
  const wanted = ui.focus && bar.querySelector(`[data-focus="${ui.focus}"]`);
  ui.focus = null;
  wanted?.focus();
}

function ready(store, ui) {
  const press = () => {
    ui.focus = "stop-said";
    store.safety.record({ act: "stop", stop: newKey(), person: mine(store) });
    store.changed();
  };
  return h(
    "div",
    { role: "group", "aria-label": "Stop work" },
    h("p", { id: "stop-words" }, SAID),
    h("button", { type: "button", class: "button button-stop", "data-focus": "stop", "aria-describedby": "stop-words", onclick: press }, "Stop work"),
  );
}

/** Whoever holds the tablet presses, not whoever spoke last on it. */
const mine = (store) => ({ id: store.doc.person.id, name: store.me });

function inForce(store, ui, stop) {
  const open = () => {
    ui.release ??= { reason: "", put_right: "", agrees: null, by: "" };
    ui.focus = "release-title";
    store.changed();
  };
  return [
    h(
      "div",
      { role: "group", "aria-label": "Work is stopped" },
      h(
        "div",
        {},
        h("p", { class: "stop-said", role: "alert", tabindex: -1, "data-focus": "stop-said" }, `Work is stopped · ${stop.by}, ${clock(stop.at, store.zone)}`),
        h("p", {}, heardWords(store, stop)),
        h("p", {}, "Cards are closed for entry; making safe can be recorded. ", SAID),
      ),
      !ui.release && h("button", { type: "button", class: "button button-stop", "data-focus": "release", onclick: open }, "Release …"),
    ),
    ui.release && releaseForm(store, ui, stop),
  ];
}

/** Which tablets have not heard it: by what the server last said, or that nothing is known. */
function heardWords(store, { stop }) {
  const { tablets, acts } = store.safety;
  const { arrived_at: arrived } = acts.find((act) => act.act === "stop" && act.stop === stop) ?? {};
  const unheard = store.safety.unheardWords();
  if (unheard) return `${unheard}: it waits on this tablet. Call out to the others.`;
  if (!tablets.length) return arrived ? `On the server since ${clock(arrived, store.zone)}; a tablet without signal has not heard it.` : "";
  const deaf = tablets.filter(({ device, heard }) => device !== store.safety.device && Date.parse(heard) < Date.parse(arrived));
  if (!deaf.length) return "All tablets that worked here today have heard it.";
  deaf.sort((a, b) => Date.parse(b.heard) - Date.parse(a.heard));
  const named = deaf.slice(0, NAMED).map(({ device, by, heard }) => `${by ?? device} (${device}, last heard ${clock(heard, store.zone)})`);
  const more = deaf.length > NAMED ? ` and ${deaf.length - NAMED} more` : "";
  return `Not heard yet by ${named.join(", ")}${more}.`;
}

function releaseForm(store, ui, { stop, by }) {
  const form = ui.release;
  const people = releasers(store);
  const close = () => {
    ui.release = null;
    ui.focus = "release";
    store.changed();
  };
  const submit = (event) => {
    event.preventDefault();
    form.faults = faultsOf(form, by);
    const [first] = Object.keys(form.faults);
    if (first) ui.focus = `release-${first}`;
    else {
      const person = people.find((one) => one.name === form.by) ?? { id: null, name: form.by };
      const said = { act: "release", stop, reason: form.reason.trim(), put_right: form.put_right.trim(), agrees: form.agrees, person };
      const faults = store.safety.record(said);
      if (!faults.length) ui.release = null;
      else form.faults = { by: faults.map(({ message }) => message).join(" ") };
    }
    store.changed();
  };
  return h(
    "form",
    { class: "release-form", novalidate: true, onsubmit: submit, "aria-label": "Release the stop" },
    h("h2", { tabindex: -1, "data-focus": "release-title" }, "Release the stop"),
    h("p", { class: "small" }, store.safety.book.governs),
    choices("by", "Who releases it: named in the briefing", form, people.map(({ name }) => [name, name]), store),
    people.length === 0 && h("p", { class: "fault" }, "Nobody is named in a briefing as one who may release a stop: the lead releases it at the desk."),
    typed("reason", "Why work may go on", form),
    typed("put_right", "What was put right", form),
    choices("agrees", `Does ${by} agree?`, form, [[true, "Yes"], [false, "No: the lead has to release it"]], store),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "submit", class: "button button-main" }, "Release the stop"),
      h("button", { type: "button", class: "button button-quiet", onclick: close }, "Leave it in force"),
    ),
    h("p", { class: "small" }, "After it the list is walked again, each cell is entered again, and open cards are asked again."),
  );
}

/** The people named in a briefing as those who may release; the lead at work here too. */
function releasers(store) {
  const { book } = store.safety;
  const names = store.safety.site().crews.flatMap((crew) => crew.releasers);
  const mayLead = store.doc.person.role === "lead" ? [store.me] : [];
  const all = [...new Set([...names, ...mayLead])];
  const known = new Map([...book.people, mine(store)].map((one) => [one.name, one]));
  return all.map((name) => known.get(name) ?? { id: null, name });
}

function faultsOf({ by, reason, put_right: right, agrees }, pressed) {
  const faults = {};
  if (!by) faults.by = "Choose who releases it.";
  if (!reason.trim()) faults.reason = "Write why work may go on.";
  if (!right.trim()) faults.put_right = "Write what was put right.";
  if (agrees === null) faults.agrees = `Ask ${pressed}, and say what they answered.`;
  return faults;
}

function typed(name, label, form) {
  const fault = form.faults?.[name];
  return h(
    "div",
    { class: fault ? "field field-faulty" : "field" },
    h("label", { for: `release-${name}` }, label),
    h("input", { id: `release-${name}`, "data-focus": `release-${name}`, autocomplete: "off", value: form[name], oninput: (event) => (form[name] = event.target.value) }),
    fault && h("p", { class: "fault" }, fault),
  );
}

function choices(name, label, form, options, store) {
  const fault = form.faults?.[name];
  const box = ([value, words], n) => {
    const choose = () => {
      form[name] = value;
      store.changed();
    };
    return h("label", { class: "choice" }, h("input", { type: "radio", name: `release-${name}`, "data-focus": n ? `release-${name}-${n}` : `release-${name}`, checked: form[name] === value, onchange: choose }), h("span", {}, words));
  };
  return h("fieldset", { class: fault ? "field field-faulty" : "field" }, h("legend", {}, label), options.map(box), fault && h("p", { class: "fault" }, fault));
}

