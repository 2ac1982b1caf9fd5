// Opening the tablet by a password, where neither memory nor the server opens it.

import { h, replace } from "../dom.js";
import { openByPassword, opening, peopleHere } from "./people.js";
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
      h("div", { class: "door" }, h("h1", {}, "Open this tablet"), this.whyPart(), this.form(), this.waitingPart()),
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
    const line = (one) => h("li", {}, h("p", {}, waitingWords(one)));
    return h(
      "section",
      { class: "sheet", "aria-labelledby": "waits-here" },
      h("h2", { class: "sheet-title", id: "waits-here" }, "Unsent on this tablet"),
      h("ul", { class: "lines" }, this.waiting.map(line)),
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
