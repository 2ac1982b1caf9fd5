// Opening the tablet by a password, where neither memory nor the server opens it.

import { h, replace } from "../dom.js";
import { NOT_IN_THE_FILE, save, unsentFiles } from "../sending/carry_off.js";
import { beginAnew, openByPassword, opening, peopleHere } from "./people.js";
import { setting } from "./settings.js";
import { waitingHere } from "./waiting.js";
import { waitingWords } from "./waiting_words.js";

/** Draw the view into *root* until somebody is open; resolves to the person. */
export async function unlocked(root, why) {
  const [people, waiting] = await Promise.all([peopleHere(), waitingHere().catch(() => [])]);
  return new Promise((done) => new UnlockView(root, { why, people, waiting }, done).draw());
}

class UnlockView {
  constructor(root, { why, people, waiting }, done) {
    Object.assign(this, { root, why, waiting, done, fault: "", busy: false });
    this.revoked = setting("revoked");
    this.people = people.filter((one) => one.password);
    this.without = people.filter((one) => !one.password);
    this.who = (why.who && this.people.find(({ id }) => id === why.who.id)) ?? this.people[0] ?? null;
    this.again = () => this.tryAgain();
    addEventListener("online", this.again);
  }

  draw() {
    replace(
      this.root,
      h("div", { class: "door" }, h("h1", {}, "Open this tablet"), this.whyPart(), this.form(), this.waitingPart(), this.lostPart()),
    );
  }

  whyPart() {
    if (this.revoked) return notice("fault", this.revoked, "What is unsent stays here, sealed; a lead can admit the tablet again.");
    if (!this.people.length) return notice("care", this.nobody());
    return h("p", {}, `${this.why.message} Your password opens what this tablet holds for you.`);
  }

  nobody() {
    const names = this.without.map(({ name }) => name).join(", ");
    return names
      ? `${this.why.message} ${names} opened it with signal, but gave no password here: it opens again with signal.`
      : `${this.why.message} Nobody has opened this tablet yet: sign in once with signal, and take the round along.`;
  }

  form() {
    const again = h("button", { class: "button button-wide", type: "button", onclick: this.again }, "Try with signal");
    if (this.revoked || !this.people.length) return again;
    return h(
      "form",
      { class: "sheet", novalidate: true, onsubmit: (event) => this.submit(event) },
      this.people.length > 1 ? this.choice() : h("p", { class: "strong" }, this.who.name),
      this.passwordField(),
      h(
        "div",
        { class: "stack-tight" },
        h("button", { class: "button button-main button-wide", type: "submit", disabled: this.busy }, this.busy ? "Opening …" : "Open"),
        again,
      ),
    );
  }

  choice() {
    const radio = (one) =>
      h(
        "label",
        { class: "choice" },
        h("input", { type: "radio", name: "who", value: one.id, checked: one.id === this.who.id, "data-focus": `who:${one.id}`, onchange: () => this.choose(one) }),
        h("span", {}, one.name),
      );
    return h("fieldset", { class: "field" }, h("legend", {}, "Who are you?"), this.people.map(radio));
  }

  choose(one) {
    this.who = one;
    this.fault = "";
    this.draw();
  }

  passwordField() {
    const faulty = this.fault ? { "aria-invalid": "true", "aria-describedby": "unlock-fault" } : {};
    return h(
      "div",
      { class: `field${this.fault ? " field-faulty" : ""}` },
      h("label", { for: "unlock-password" }, "Password"),
      h("input", { id: "unlock-password", type: "password", autocomplete: "current-password", "data-focus": "unlock-password", ...faulty }),
      this.fault && h("span", { class: "fault", id: "unlock-fault", role: "alert" }, this.fault),
    );
  }

  waitingPart() {
    if (!this.waiting.length) return null;
    const line = (one) => h("li", {}, h("p", {}, waitingWords(one)), this.carryButton(one));
    return h(
      "section",
      { class: "sheet", "aria-labelledby": "waits-here" },
      h("h2", { class: "sheet-title", id: "waits-here" }, "Unsent on this tablet"),
      h("ul", { class: "lines" }, this.waiting.map(line)),
      h("p", { class: "small quiet" }, `A file that is carried off is sealed and needs no password; a lead takes it in at the desk. It all stays here as well. ${NOT_IN_THE_FILE}`),
      this.carried && h("p", { role: "status" }, this.carried),
    );
  }

  /** What a person has unsent goes into one file, whichever of their rounds it is asked at. */
  carryButton({ person, person_name: name, entries, photos }) {
    if (!entries && !photos) return null;
    const said = h("span", { class: "out-of-sight" }, ` what ${name ?? "somebody"} has unsent`);
    return h("button", { type: "button", class: "button", "data-focus": `carry:${person}`, onclick: () => this.carryOff(person) }, "Carry off as a file", said);
  }

  async carryOff(person) {
    this.carried = await unsentFiles(person).then(save).then(
      () => "The file is with the downloads of this browser.",
      () => "The file could not be made: this tablet does not give out what it holds.",
    );
    this.draw();
  }

  /** The ways past a password or a key that is lost, and what each costs. */
  lostPart() {
    if (this.revoked || !(this.people.length || this.why.state === "password")) return null;
    const anew = this.why.state === "password";
    return h(
      "details",
      { class: "sheet more", open: anew },
      h("summary", {}, "The password is lost"),
      h("p", {}, "Have an administrator set a new one, and sign in with signal: the server then opens what this tablet holds for you, and nothing is lost. Without signal only the password of before opens it."),
      h("p", { class: "actions" }, h("a", { class: "button", href: `/account/sign-in?next=${encodeURIComponent(location.pathname + location.hash)}` }, "Sign in with signal")),
      anew && this.anewPart(),
    );
  }

  anewPart() {
    return [
      h("p", {}, "You are signed in, and the server does not open it either: its key for this tablet is another one. You can begin with a new key. It costs this:"),
      h(
        "ul",
        {},
        h("li", {}, "What is unsent under the old key stays here, sealed. It is sent no more: carry it off as a file, for the server that gave that key."),
        h("li", {}, "What was typed and not recorded is lost once something is typed on the same card."),
        h("li", {}, "Rounds are fetched again with signal."),
      ),
      h("button", { type: "button", class: "button", "data-focus": "anew", onclick: () => this.anew() }, "Begin with a new key"),
      this.anewFault && h("p", { class: "fault", role: "alert" }, this.anewFault),
    ];
  }

  async anew() {
    if (!confirm("Begin with a new key? What is sealed under the old one is opened on this tablet no more.")) return;
    await beginAnew().then(
      (person) => this.end(person),
      (error) => {
        this.anewFault = error.message;
        this.draw();
      },
    );
  }

  async submit(event) {
    event.preventDefault();
    if (this.busy) return;
    const password = this.root.querySelector("#unlock-password").value;
    if (!password) return this.say("Type your password.");
    this.busy = true;
    this.draw();
    await openByPassword(this.who.id, password).then(
      (person) => this.end(person),
      (error) => this.say(error.message),
    );
  }

  say(words) {
    this.busy = false;
    this.fault = words;
    this.draw();
    this.root.querySelector("#unlock-password")?.focus();
  }

  async tryAgain() {
    const found = await opening();
    if (found.person) return this.end(found.person);
    if (found.state === "sign-in") return location.reload();
    this.why = found;
    this.revoked = setting("revoked");
    this.draw();
  }

  end(person) {
    removeEventListener("online", this.again);
    this.done(person);
  }
}

function notice(kind, ...words) {
  return h("div", { class: `notice notice-${kind}`, role: "alert" }, words.map((one) => h("p", {}, one)));
}
