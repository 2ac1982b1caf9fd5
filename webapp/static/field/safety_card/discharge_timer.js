// The discharge timer: it counts from the moment the dc is off, and goes on when the page
// is left or loaded again, for that moment is an act.

import { parseValue } from "/offline/reader.js";
import { h } from "../dom.js";
import { typedConditions } from "../conditions.js";
import { clockAt, spanWords } from "./site_clock.js";

const TIMES = 4; // as long as the dc was on; source at P03a
const MINUTE_S = 60; // a reading of insulation is judged after one minute
const TICK_MS = 500;

/**
 * Return the timer of a card as it stands: {offMs, dcS, siteS, leastS, overMs}; null while
 * the dc was not said to be off since the ground last stayed on for its time.
 */
export function dischargeTimer(store, { discharge }) {
  if (!discharge) return null;
  const [offMs, overMs] = [discharge.off_at, discharge.over_at].map((at) => Date.parse(at));
  const siteS = store.safety.book.settings.discharge_least_s;
  return { offMs, dcS: discharge.dc_s, siteS, leastS: (overMs - offMs) / 1000, overMs };
}

/** Draw the timer of a card: the press that starts it, or what is left. */
export function timerPart(store, card, ui, timer) {
  return h(
    "div",
    { class: "discharge", role: "group", "aria-label": "Discharge timer" },
    timer && !ui.dcAgain ? running(store, card, ui, timer) : start(store, card, ui),
  );
}

/** How long the dc was on (minutes, as text), as far as the card tells. */
function usualMinutes(store, card) {
  const last = card.readings.at(-1)?.conditions ?? {};
  const { duration_s: held } = { ...typedConditions(store, card), ...last };
  const timed = last.timed?.split(" ").map((pair) => Number(pair.split(":")[0])) ?? [];
  const seconds = Math.max(0, Number(held) || 0, ...timed.filter(Number.isFinite)) || MINUTE_S;
  return String(Number((seconds / 60).toFixed(2)));
}

function start(store, card, ui) {
  const draft = store.draft(card.id);
  const typed = draft.dcMinutes ?? usualMinutes(store, card);
  return h(
    "form",
    { class: "discharge-start", novalidate: true, onsubmit: (event) => press(event, store, card, ui) },
    h(
      "div",
      { class: "noted-field" },
      h("label", { for: "dc-minutes" }, "The dc was on for"),
      h(
        "div",
        { class: "with-unit" },
        h("input", {
          id: "dc-minutes",
          "data-focus": "dc-minutes",
          inputmode: "decimal",
          autocomplete: "off",
          "aria-describedby": "dc-fault",
          value: typed,
          oninput: (event) => {
            draft.dcMinutes = event.target.value;
            store.saveDrafts();
          },
        }),
        h("span", { class: "unit" }, "min"),
      ),
      h("span", { class: "fault", id: "dc-fault", role: "alert", hidden: !ui.dcFault }, ui.dcFault ?? ""),
    ),
    h("button", { type: "submit", class: "button button-main discharge-press", "data-focus": "dc-off" }, "The dc is off"),
    h("p", { class: "quiet small discharge-about" }, "Press it when the dc is off and the ground is on: the ground stays on until the time is over."),
  );
}

function press(event, store, card, ui) {
  event.preventDefault();
  const typed = event.target.elements["dc-minutes"].value;
  const seconds = secondsOf(typed);
  ui.dcFault = seconds !== null ? null : "Type how long the dc was on, in minutes, such as 1 or 10.";
  const faults = seconds !== null ? store.safety.record({ act: "dc_off", card: card.id, dc_s: seconds }) : [];
  if (faults.length) ui.dcFault = faults.map(({ message }) => message).join(" ");
  if (seconds !== null && !faults.length) {
    delete store.draft(card.id).dcMinutes;
    ui.dcAgain = false;
    store.saveDrafts();
  }
  store.changed();
}

function secondsOf(typed) {
  try {
    const { low, high } = parseValue(typed.trim());
    return low === high && low >= 0 ? low * 60 : null;
  } catch {
    return null;
  }
}

function running(store, card, ui, timer) {
  const left = h("span", { class: "discharge-left", role: "timer" });
  const said = h("p", { class: "strong", role: "status" });
  const show = () => {
    const restMs = timer.overMs - store.safety.now();
    left.textContent = spanWords(restMs / 1000);
    const words = restMs > 0 ? `The ground stays on until ${clockAt(timer.overMs, store.zone)}` : `The set time is over since ${clockAt(timer.overMs, store.zone)}`;
    if (said.textContent !== words) said.textContent = words;
    return restMs > 0;
  };
  if (show()) countDown(store, left, show);
  return [
    h("div", { class: "discharge-running" }, left, h("div", {}, said, h("p", { class: "small" }, working(store, timer)))),
    h("button", { type: "button", class: "button button-quiet", "data-focus": "dc-again", onclick: () => again(store, ui) }, "The dc was on again"),
  ];
}

function countDown(store, left, show) {
  const ticking = setInterval(() => {
    if (!left.isConnected) return clearInterval(ticking); // drawn anew: that one counts
    if (show()) return undefined;
    clearInterval(ticking);
    return store.changed();
  }, TICK_MS);
}

function again(store, ui) {
  ui.dcAgain = true;
  ui.focus = "dc-minutes";
  store.changed();
}

/** The arithmetic behind the time, with its source. */
function working(store, { dcS, leastS, offMs, siteS }) {
  const four = TIMES * dcS;
  const chosen = four >= siteS ? "the longer counts" : "the site's figure counts";
  const source = store.safety.book.lines.P03a?.source;
  return `Off at ${clockAt(offMs, store.zone)}. Dc on ${spanWords(dcS)}: ${TIMES} × ${spanWords(dcS)} = ${spanWords(four)}; the site's least ${spanWords(siteS)}; ${chosen}: ${spanWords(leastS)} (min:s).${source ? ` Source: ${source}` : ""}`;
}
