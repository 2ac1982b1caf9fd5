// The form that signs cards as performed: the password goes to the server and nowhere else.

import { h } from "../dom.js";
import { performers } from "./performers.js";

/** What this person says by signing these cards, each sentence once. */
function statements(store, cards) {
  const own = cards.flatMap((card) => performers(card).filter((one) => one.id === store.doc.person.id));
  return [...new Set(own.map((one) => one.statement))];
}

/** Take the password out of its field: it was used, or it was not the right one. */
function putOut() {
  const field = document.getElementById("sign-password");
  if (field) field.value = "";
}

const NO_SIGNAL = "No signal: signing needs the server, for it keeps your key.";

/** Draw the form that signs *cards* with one password; *sign(password)* does it. */
export function signForm(store, ui, cards, sign = (password) => store.sign(cards.map((card) => card.id), password)) {
  const submit = async (event) => {
    event.preventDefault();
    const field = event.target.elements.password;
    ui.signFaults = [];
    if (!field.value) ui.signFaults.push("Type your password: it opens your key.");
    else await signWith(field.value);
    store.changed();
    document.getElementById("sign-password")?.focus();
  };
  const signWith = async (password) => {
    ui.signing = true;
    store.changed();
    try {
      await sign(password);
      ui.focus = "next-card";
    } catch (error) {
      ui.signFaults.push(error.state ? error.message : NO_SIGNAL);
      if (error.state) store.refresh(); // what has changed is shown, not only said
    }
    ui.signing = false;
    putOut();
  };
  const faults = ui.signFaults ?? [];
  return h(
    "form",
    { onsubmit: submit, class: "sign-form" },
    statements(store, cards).map((said) => h("p", {}, said)),
    h(
      "div",
      { class: `field${faults.length ? " field-faulty" : ""}` },
      h("label", { for: "sign-password" }, `Password of ${store.me}`),
      h("input", {
        id: "sign-password",
        name: "password",
        type: "password",
        autocomplete: "current-password",
        "data-focus": "sign-password",
        "aria-describedby": "sign-fault",
      }),
      h("span", { class: "fault", id: "sign-fault", role: "alert" }, faults.join(" ")),
    ),
    h(
      "button",
      { class: "button button-main", type: "submit", disabled: ui.signing },
      ui.signing ? "Signing …" : cards.length === 1 ? "Sign as performed" : `Sign ${cards.length} cards as performed`,
    ),
    ui.signing && h("progress", { "aria-label": "Signing" }),
  );
}
