// Who is signed in, since when; who says the next lines on this tablet.

import { personKey } from "../safety/people.js";
import { h } from "../dom.js";
import { mark } from "../words.js";
import { clock, personOf } from "./names.js";
import { act } from "./parts.js";
import { asked, ownLines } from "./scopes.js";

/** Draw the people of a crew: each with their own lines, and who speaks here now. */
export function peoplePart(store, ui, crew) {
  const here = crew.people.filter((one) => !one.left);
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "people-title" },
    h("h2", { id: "people-title" }, `Signed in: ${here.filter(({ since }) => since).length}`),
    crew.people.length === 0 && h("p", { class: "quiet" }, "Nobody has signed in yet: each person says their own lines, on this tablet too."),
    h("ul", { class: "lines" }, crew.people.map((one) => h("li", {}, personRow(store, ui, crew, one)))),
    signInForm(store, ui, crew),
  );
}

function personRow(store, ui, crew, one) {
  const person = personOf(store, one.key);
  const left = asked(ownLines(store.safety.book, store.safety.book.crew, crew, one.key)).length;
  const speaks = personKey(store.safety.speaker) === one.key;
  return h(
    "div",
    { class: "line person-row" },
    mark(one.left ? "unjudged" : left ? "open" : "done"),
    h(
      "div",
      {},
      h("p", {}, h("strong", {}, one.name), crew.in_charge === one.name && " · in charge"),
      h("p", { class: "detail" }, timesOf(store, one, left)),
    ),
    !one.left &&
      h(
        "div",
        { class: "actions" },
        !speaks && h("button", { type: "button", class: left ? "button" : "button button-quiet", onclick: () => speak(store, ui, person) }, left ? `Lines of ${one.name}` : `${one.name} speaks now`),
        one.since && h("button", { type: "button", class: "button button-quiet", onclick: () => act(store, ui, signOff(crew, person)) }, "Sign off", h("span", { class: "out-of-sight" }, ` ${one.name}`)),
      ),
  );
}

function timesOf(store, one, left) {
  if (one.left) return `${one.since ? clock(one.since, store.zone) : ""} to ${clock(one.left, store.zone)}`;
  if (left) return `${left} of their own lines open`;
  return `signed in ${clock(one.since, store.zone)}`;
}

const signOff = (crew, person) => ({ act: "sign_off", crew: crew.of, person });

/** From now on this person's words are taken on this tablet. */
export function speak(store, ui, person) {
  store.safety.speaks(person);
  ui.inHand = null;
  ui.focus = "line-in-hand";
  store.changed();
}

/** Somebody else signs in on this tablet: chosen, or named. */
function signInForm(store, ui, crew) {
  const here = new Set(crew.people.filter(({ left }) => !left).map(({ key }) => key));
  const known = [store.safety.speaker, ...store.safety.book.people].filter((one) => !here.has(personKey(one)));
  const others = [...new Map(known.map((one) => [personKey(one), one])).values()];
  const submit = (event) => {
    event.preventDefault();
    const name = event.target.elements.name.value.trim();
    if (!name) return;
    ui.signIn = "";
    speak(store, ui, others.find((one) => one.name.toLowerCase() === name.toLowerCase()) ?? { id: null, name });
  };
  return h(
    "form",
    { class: "sign-in-form", onsubmit: submit },
    h(
      "div",
      { class: "field" },
      h("label", { for: "sign-in-name" }, "Who signs in (choose, or type the name)"),
      h("input", { id: "sign-in-name", name: "name", "data-focus": "sign-in-name", list: "sign-in-known", autocomplete: "off", value: ui.signIn ?? "", oninput: (event) => (ui.signIn = event.target.value) }),
      h("datalist", { id: "sign-in-known" }, others.map(({ name }) => h("option", { value: name }))),
    ),
    h("button", { type: "submit", class: "button" }, "Sign in"),
  );
}

/** Who says the lines that follow, where that is not the one signed in on the tablet. */
export function speakerNotice(store, ui) {
  const { speaker } = store.safety;
  if (speaker.name === store.me) return null;
  const mine = { id: store.doc.person.id, name: store.me };
  return h(
    "div",
    { class: "notice notice-row speaker" },
    h("p", {}, h("strong", {}, speaker.name), ` speaks now, on ${store.me}'s tablet.`),
    h("button", { type: "button", class: "button", onclick: () => speak(store, ui, mine) }, `Back to ${store.me}`),
  );
}

