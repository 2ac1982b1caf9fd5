// A new version of the program: announced, and taken when somebody says so in a quiet moment.

import { h } from "../dom.js";

const ASK_MS = 10 * 60 * 1000; // between two looks for a newer version
const ANSWER_MS = 400; // other pages of this tablet answer within
const FIELD = "input:not([type=checkbox], [type=radio], [type=button]), textarea";
const QUESTION = "may it be taken?";
const ANSWERS = "witnessmark-version-answers";

const pages = new BroadcastChannel("witnessmark-version");
let written = async () => true; // whether all that was recorded here is on the disk
let asked = Date.now();

/** *whenWritten()* resolves to whether everything of this page is kept on the disk. */
export function guardVersion(whenWritten) {
  written = whenWritten;
}

/** Watch for a version that waits; it takes the tablet over only when it is told to. */
export function announceVersion(registration) {
  if (!registration) return;
  const held = Boolean(navigator.serviceWorker.controller);
  if (registration.waiting && held) say(registration);
  registration.addEventListener("updatefound", () => watch(registration, registration.installing));
  pages.onmessage = ({ data }) => data === QUESTION && answer();
  // The first worker of a tablet takes over a page that has no other: nothing changes.
  if (held) navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
  document.addEventListener("visibilitychange", () => lookAgain(registration));
  addEventListener("online", () => lookAgain(registration));
}

function watch(registration, worker) {
  worker?.addEventListener("statechange", () => {
    if (worker.state === "installed" && navigator.serviceWorker.controller) say(registration);
  });
}

function lookAgain(registration) {
  if (document.visibilityState !== "visible" || Date.now() - asked < ASK_MS) return;
  asked = Date.now();
  registration.update().catch(() => {}); // without signal nothing is new
}

function say(registration) {
  if (document.getElementById("new-version")) return;
  const told = h("p", { role: "status", id: "new-version-says" });
  const take = async () => {
    told.textContent = "";
    if (await quiet()) registration.waiting?.postMessage({ type: "take-over" });
    else told.textContent = "Something is being typed or stored on this tablet: it is not taken now. Press again when that is done.";
  };
  const notice = h(
    "div",
    { class: "notice notice-version", id: "new-version" },
    h("p", { role: "status" }, "A new version is here. It is taken when you say so, or when all pages of it are closed. Cards go on where they are."),
    told,
    h("button", { class: "button", type: "button", onclick: take }, "Use it now"),
  );
  document.getElementById("main").prepend(notice);
}

/** Whether nothing is being typed or written on any page of this tablet. */
async function quiet() {
  if (await busy()) return false;
  const heard = new BroadcastChannel(ANSWERS);
  const answered = new Promise((done) => {
    heard.onmessage = () => done(false);
    setTimeout(() => done(true), ANSWER_MS);
  });
  pages.postMessage(QUESTION);
  return answered.finally(() => heard.close());
}

async function answer() {
  if (!(await busy())) return;
  const said = new BroadcastChannel(ANSWERS);
  said.postMessage("not now");
  said.close();
}

/** Typing: the hand is in a field, or a password stands in one (it is kept nowhere). */
async function busy() {
  const inField = document.hasFocus() && document.activeElement?.matches?.(FIELD);
  const password = [...document.querySelectorAll("input[type=password]")].some((field) => field.value);
  return inField || password || !(await written());
}
