// The server's list of rounds: which of them are on this tablet, and taking one along.

import { h, replace } from "../dom.js";
import { moveFromBefore } from "../kept/moved.js";
import { passwordPart } from "../kept/password_part.js";
import { opening } from "../kept/people.js";
import { room } from "../kept/room.js";
import { heldRounds } from "../kept/rounds.js";
import { openSettings } from "../kept/settings.js";
import { keepBeside } from "../kept/tablet.js";
import { counted } from "../words.js";
import { takeAlong } from "./take_along.js";
import { announceVersion } from "./version.js";
import { holdProgram, withoutWorkerWords } from "./worker.js";

const DAY_MS = 24 * 3600 * 1000;
const says = document.getElementById("tablet-says");
const places = [...document.querySelectorAll("[data-take]")];

async function start() {
  document.documentElement.dataset.program = says.dataset.program;
  await openSettings();
  keepBeside();
  await moveFromBefore();
  const { person, message } = await opening();
  if (!person) return replace(says, message && h("p", { class: "small quiet" }, message, " ", h("a", { href: "/field/tablet" }, "Open this tablet")));
  for (const place of places) place.append(button(person, place));
  says.parentElement.append(passwordPart(person, { folded: true })); // below the list, which is what one came for
  await show(person);
}

function button(person, { dataset: { take: round, words } }) {
  const said = h("span", { class: "take-says" }, "Take along");
  const press = h("button", { type: "button", class: "button", onclick: () => take(person, round, press) }, said, h("span", { class: "out-of-sight" }, ` ${words}`));
  return press;
}

async function take(person, round, press) {
  if (press.getAttribute("aria-disabled")) return;
  press.setAttribute("aria-disabled", "true");
  press.querySelector(".take-says").textContent = "Taking along …";
  try {
    await takeAlong(person, round);
    sayFault(press, "");
  } catch (error) {
    sayFault(press, error.state || error.message ? error.message : "There is no signal: it was not taken along.");
  }
  press.removeAttribute("aria-disabled");
  press.querySelector(".take-says").textContent = "Take along";
  await show(person);
}

function sayFault(press, words) {
  const row = press.closest("li");
  row.querySelector(".take-fault")?.remove();
  if (words) row.append(h("p", { class: "fault take-fault", role: "alert" }, words));
}

/** Say what is here: at each round, and of them all. */
async function show(person) {
  const held = await heldRounds(person);
  const taken = new Map(held.filter((one) => one.taken_at).map((one) => [one.round, one]));
  for (const place of places) {
    const here = taken.get(place.dataset.take);
    if (here && !place.querySelector(".fault")) place.querySelector(".take-says").textContent = `On this tablet, ${moment(here.fetched_at)}`;
  }
  replace(says, h("p", { class: "small" }, await hereWords(taken.size, held.length - taken.size)), withoutWorkerWords() && h("p", { class: "small" }, withoutWorkerWords()));
}

/** The time of today, else the day with it. */
function moment(at) {
  const then = new Date(at);
  const near = Date.now() - then < DAY_MS && then.getDate() === new Date().getDate();
  return then.toLocaleString("en-GB", { ...(near ? {} : { day: "numeric", month: "short" }), hour: "2-digit", minute: "2-digit" });
}

async function hereWords(taken, looked) {
  const { used, quota, persistent } = await room();
  const count = taken ? counted(taken, "round was", "rounds were") : "No round was";
  const rounds = `${count} taken along on this tablet${looked ? `, ${looked} looked at` : ""}.`;
  const left = quota ? ` Room for ${size(quota - used)} more.` : "";
  const lasting = { true: " The browser clears nothing by itself.", false: " The browser may clear it when the tablet has no room left." }[persistent] ?? "";
  return rounds + left + (taken ? lasting : "");
}

const size = (bytes) => (bytes < 1e9 ? `${Math.round(bytes / 1e6)} MB` : `${(bytes / 1e9).toFixed(1)} GB`);

holdProgram().then(announceVersion);
start();
