// The field for the instrument: those that fit, the others with why not, and what is said
// of the one that is chosen.

import { plain, saidUnit } from "/offline/reader.js";
import { say } from "/offline/words/catalogue.js";
import { carriedFrom, lastInstrument, ownNow } from "./carry_over.js";
import { h, replace } from "./dom.js";
import { beyond, levelBeyond, whyNot } from "./instruments.js";
import { inCalibration } from "./preview.js";
import { counted, dayWords, siteDay } from "./words.js";

const WARN = [30, 60]; // days before it falls due
const DAY = 24 * 60 * 60 * 1000;

/**
 * Draw the field. *asked* gives {name, procedure, conditions} as they stand now; *chosen*
 * is the instrument, or undefined. *refresh* of the node says anew what is beyond it.
 */
export function instrumentField(store, card, asked, chosen, changed) {
  const { name, procedure, conditions } = asked();
  const draft = store.draft(card.id);
  const offered = store.doc.instruments.filter((one) => !one.retired);
  const why = new Map(offered.map((one) => [one, whyNot(one, name, procedure, conditions)]));
  const fits = offered.filter((one) => !why.get(one) || one === chosen);
  const last = lastInstrument(store, card)?.instrument;
  fits.sort((a, b) => (b === last) - (a === last)); // the one that was used last is offered first
  const others = offered.filter((one) => !fits.includes(one));
  const option = (one, words, disabled = false) =>
    h("option", { value: one.id, disabled }, `${one.tag} · ${one.name}${words}`);
  const unfit = (one) => option(one, ` · ${say(why.get(one))}`, why.get(one) === "unfit.procedure");
  const about = h("span", { id: "instrument-about", class: "about" });
  const node = h(
    "div",
    { class: "condition condition-wide" },
    h("label", { for: "condition-instrument" }, "Instrument"),
    h(
      "select",
      {
        id: "condition-instrument",
        "data-focus": "condition-instrument",
        "aria-describedby": "instrument-about",
        value: chosen?.id ?? "",
        onchange: (event) => {
          draft.instrument_id = event.target.value;
          ownNow(store, card, "instrument");
          store.clearFaults(card.id, "condition:instrument_id");
          store.saveDrafts();
          changed();
          store.changed();
        },
      },
      h("option", { value: "" }, fits.length ? "choose from the register" : "none in the register fits"),
      fits.map((one) => option(one, due(store, one))),
      draft.all_instruments &&
        others.length > 0 &&
        h("optgroup", { label: "do not fit" }, others.map(unfit)),
    ),
    about,
    carriedFrom(store, card, "instrument"),
    others.length > 0 &&
      !draft.all_instruments &&
      h(
        "button",
        {
          type: "button",
          class: "button button-quiet suggestion",
          onclick: () => {
            draft.all_instruments = true;
            store.saveDrafts();
            store.changed();
          },
        },
        `show all, ${others.length} more`,
      ),
    store.faultsAt(card.id, "condition:instrument_id").map((said) => h("span", { class: "fault" }, said)),
  );
  const refresh = () => replace(about, ...aboutInstrument(store, chosen, asked()));
  refresh();
  return { node, refresh };
}

/** Days until it falls due; negative once it has. */
function daysLeft(store, { due_on: dueOn }) {
  return Math.round((Date.parse(dueOn) - Date.parse(siteDay(store.clock.now(), store.zone))) / DAY);
}

function due(store, instrument) {
  if (!inCalibration(instrument, siteDay(store.clock.now(), store.zone))) return " · out of calibration";
  const left = daysLeft(store, instrument);
  return left <= WARN.at(-1) ? ` · due in ${counted(left, "day")}` : "";
}

function aboutInstrument(store, instrument, asked) {
  if (!instrument) return ["Readings need an instrument from the register."];
  return [calibrationWords(store, instrument), beyondWords(instrument, asked)].filter(Boolean);
}

function calibrationWords(store, instrument) {
  const { tag, serial, due_on: dueOn } = instrument;
  if (!inCalibration(instrument, siteDay(store.clock.now(), store.zone))) {
    const was = dueOn ? `was due on ${dayWords(dueOn)}` : "has no calibration";
    return h("span", { class: "fault" }, `${tag} ${was}: what it reads is kept, and stands unjudged.`);
  }
  const left = daysLeft(store, instrument);
  const soon = WARN.find((days) => left <= days);
  const warned = soon ? ` · calibration falls due within ${soon} days, on ${dayWords(dueOn)}` : ` · calibrated to ${dayWords(dueOn)}`;
  return h("span", soon === WARN[0] ? { class: "strong" } : {}, `No. ${serial}${warned} · ${accuracyWords(instrument)}`);
}

/** What the conditions ask beyond the instrument, at once. */
function beyondWords({ tag, ranges }, { procedure, conditions }) {
  const found = beyond(ranges, procedure.asks, conditions);
  if (!found) return null;
  const applies = ranges.filter(({ does }) => does === "applies");
  const level = levelBeyond(applies, procedure.asks, conditions);
  const puts = (level?.ranges ?? applies).map(endsWords).join("; ");
  return h("span", { class: "fault" }, `${tag} puts out ${puts}, not what is asked here: what it reads is kept, and stands unjudged.`);
}

function endsWords({ low, high, unit, supply }) {
  const ends = low === null ? "" : `${plain(low)} to ${plain(high)} ${saidUnit(unit)}`;
  return [ends, supply].filter(Boolean).join(" ");
}

function accuracyWords({ ranges }) {
  const said = ranges.filter(({ does }) => does === "reads").map(statedWords).filter(Boolean);
  if (!said.length) return "no accuracy stated: simple acceptance";
  return said.length > 1 ? `± ${said[0]} and ${counted(said.length - 1, "range")} more` : `± ${said[0]}`;
}

function statedWords(one) {
  const { unit, pct_reading: pct, pct_range: share, digits, resolution, fixed } = one;
  const own = saidUnit(unit ?? "");
  const parts = [
    pct && `${plain(pct)} %`,
    share && `${plain(share)} % of range`,
    digits && `${plain(digits)} x ${plain(resolution)} ${own}`,
    fixed && `${plain(fixed)} ${own}`,
  ].filter(Boolean);
  const ends = one.high === null ? "" : ` (${endsWords(one)})`;
  return parts.length ? `${parts.join(" + ")}${ends}` : "";
}
