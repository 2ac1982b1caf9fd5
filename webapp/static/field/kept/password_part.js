// The password asked for once, so that this tablet opens without signal as well.

import { h, replace } from "../dom.js";
import { givePassword, lacksPassword } from "./people.js";

const WHY =
  "Without signal this tablet opens with your password, after a flat battery too. " +
  "It has not been typed here yet: type it once while there is signal.";

/**
 * A section that asks for it where it is missing, and says so when it is there; *folded*:
 * one row, until somebody opens it.
 */
export function passwordPart(person, { folded = false } = {}) {
  const place = h("div", {});
  const ask = folded ? drawFolded : drawAsking;
  lacksPassword(person).then((lacks) => lacks && ask(place, person, ""));
  return place;
}

function drawFolded(place, person) {
  const asking = h("div", {});
  drawAsking(asking, person, "");
  replace(place, h("details", { class: "sheet more" }, h("summary", {}, "This tablet does not open without signal yet: give your password once"), asking));
}

function drawAsking(place, person, fault) {
  const faulty = fault ? { "aria-invalid": "true", "aria-describedby": "once-fault" } : {};
  const field = h("input", { id: "once-password", type: "password", autocomplete: "current-password", "data-focus": "once-password", ...faulty });
  const button = h("button", { class: "button button-main", type: "submit" }, "Let it open without signal");
  const form = h(
    "form",
    { class: "sheet narrow", novalidate: true },
    h("h2", { class: "sheet-title" }, "Open without signal"),
    h("p", {}, WHY),
    h(
      "div",
      { class: `field${fault ? " field-faulty" : ""}` },
      h("label", { for: "once-password" }, "Password"),
      field,
      fault && h("span", { class: "fault", id: "once-fault", role: "alert" }, fault),
    ),
    button,
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    button.disabled = true;
    give(place, person, field.value);
  });
  replace(place, form);
  if (fault) field.focus();
}

async function give(place, person, password) {
  try {
    if (!password) throw new Error("Type your password.");
    await givePassword(person, password);
    const said = "From now on this tablet opens with your password, without signal too.";
    replace(place, h("div", { class: "notice notice-done", role: "status" }, h("p", {}, said)));
  } catch (error) {
    drawAsking(place, person, error.message);
  }
}
