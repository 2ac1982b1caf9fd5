// The head of every field page: the areas of this person, and the menu under their name.

import { h, replace } from "../dom.js";
import { signOut } from "../kept/people.js";
import { isHeld } from "./worker.js";

const AREAS = [
  { words: "Rounds", href: "/turnover/", roles: ["lead"] },
  { words: "Field", href: "/field/", roles: ["lead"], here: true },
  { words: "Rounds", href: "/field/", roles: ["technician"], not: "lead", here: true },
  { words: "Gear books", href: "/owner/", roles: ["lead", "technician", "owner"] },
  { words: "Criteria", href: "/library/", roles: ["lead", "technician", "owner", "administrator"] },
  { words: "Set-up", href: "/start/", roles: ["lead", "administrator"] },
];
const THEMES = ["paper", "dark", "outdoor"];
const SIGN_IN = "/account/sign-in";
const TABLET = "/field/tablet";

/** Draw the areas and the menu for *person* {name, role}; nothing where nobody is open. */
export function drawMasthead(person) {
  replace(document.getElementById("areas"), person && areas(person));
  replace(document.getElementById("menu"), person && menu(person));
}

function areas({ role }) {
  const held = role.split(", ");
  const own = AREAS.filter(({ roles, not }) => roles.some((one) => held.includes(one)) && !held.includes(not));
  return h("nav", { "aria-label": "Areas" }, own.map(({ words, href, here }) => h("a", { href, "aria-current": here }, words)));
}

function menu({ name, role }) {
  const leave = h("button", { class: "button button-wide", type: "button", onclick: () => leaveTablet() }, "Sign out");
  return h(
    "details",
    { class: "menu" },
    h("summary", {}, name, h("span", { class: "role" }, ` · ${role}`)),
    h(
      "div",
      { class: "menu-body" },
      h("div", { class: "label", id: "theme-label" }, "Theme of this device"),
      h("div", { class: "themes", role: "group", "aria-labelledby": "theme-label" }, THEMES.map(themeButton)),
      h("a", { class: "button button-wide", href: TABLET }, "On this tablet"),
      h("a", { class: "button button-wide", href: "/account/password" }, "Change password"),
      h("div", { id: "leaving-before" }),
      leave,
    ),
  );
}

function themeButton(theme) {
  const pressed = String(document.documentElement.dataset.theme === theme);
  return h("button", { type: "button", "data-set-theme": theme, "aria-pressed": pressed }, theme);
}

/** Sign out; without signal the server hears of it later, and only a password opens again. */
async function leaveTablet() {
  const told = await signOut();
  if (told || (await isHeld())) location.assign(told ? SIGN_IN : TABLET);
  else leftOpen();
}

/** There is no page to go to: what was on this one goes, and it says so. */
function leftOpen() {
  drawMasthead(null);
  const said = "You are signed out here. There is no signal: the sign-in page opens once there is.";
  replace(document.getElementById("main"), h("div", { class: "notice", role: "status" }, h("p", {}, said)));
}
