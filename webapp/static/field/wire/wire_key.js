// The key that reads the instrument into the point in hand, and what came of it.

import { quantityOf, saidUnit } from "/offline/reader.js";
import { chosenInstrument } from "../conditions.js";
import { h, replace } from "../dom.js";
import { typedFault } from "../preview.js";
import { askValue, connectAgain, connected } from "./connection.js";
import { WireError } from "./lines.js";
import { forField } from "./units.js";

let said = { card: "", words: "", fault: false };
let waiting = ""; // the label of the point that is being read

/** Fill the row of the card's bar. */
export function drawRow(row, points) {
  const { card } = points;
  const own = said.card === card.id ? said : { words: "", fault: false };
  replace(
    row,
    h(
      "button",
      {
        type: "button",
        class: "button key key-words wire-key",
        "data-focus": "wire-read",
        "aria-disabled": String(Boolean(waiting)),
        onpointerdown: (event) => event.preventDefault(), // the field keeps the focus
        onclick: () => waiting || read(points),
      },
      "Read from instrument",
    ),
    h("span", { class: own.fault ? "fault" : "quiet", role: "status" }, own.words || standingWords()),
    own.fault && h("a", { class: "button button-quiet", href: "#/wire", "data-focus": "wire-look" }, "Wire ›"),
  );
}

function standingWords() {
  const { instrument } = connected() ?? {};
  return instrument ? `${instrument.tag} is on the wire` : "No instrument is connected yet";
}

/** Ask, and put what came into the field: as typed, never recorded by itself. */
async function read(points) {
  const { store, card } = points;
  const point = points.active();
  if (!point) return;
  const before = points.draft.textOf(point);
  waiting = point.label;
  tell(store, card, `Reading ${point.label} …`);
  try {
    const instrument = instrumentOf(store, card);
    const found = await valueOf(instrument, points, point);
    const now = standingPoint(points, point, before);
    now.draft.set(point, { text: found.text, unit: found.unit, wire: { ...found, at: store.clock.now() } });
    if (now.active() === standingHere(now, point)) now.ui.focus = `reading-${point.id}`; // and into sight
    tell(store, card, `${found.text} ${saidUnit(found.unit)} at ${point.label}. Look at it, then record it.`, { done: true });
  } catch (error) {
    if (!(error instanceof WireError)) throw error;
    tell(store, card, `${point.label}: nothing was entered. ${error.message}`, { done: true, fault: true });
  }
}

function tell(store, card, words, { done = false, fault = false } = {}) {
  if (done) waiting = "";
  said = { card: card.id, words, fault };
  store.changed();
}

function instrumentOf(store, card) {
  const instrument = chosenInstrument(store, card);
  if (!instrument) throw new WireError("Choose the instrument above first.");
  return instrument;
}

/** The value as the field takes it: {text, unit, answer, query, said}. */
async function valueOf(instrument, { store, card, draft, procedure }, point) {
  if (!connected()) await connectAgain(instrument);
  const wanted = draft.unitOf(point);
  const found = await askValue(instrument, quantityOf(wanted));
  const fitted = { ...found, ...forField({ ...found, wanted, units: procedure.units }) };
  const fault = typedFault(store, card, fitted.text, fitted.unit);
  if (fault) throw new WireError(`It answered ${found.text} ${saidUnit(found.unit)}. ${fault}`);
  return fitted;
}

const standingHere = ({ card }, { id }) => card.points.find((one) => one.id === id);

/** The grid as it is now: meanwhile the card may have closed, or somebody typed. */
function standingPoint({ ui }, point, before) {
  const now = ui.points;
  const same = now && standingHere(now, point);
  if (!same || !now.draft.editing(same)) throw new WireError("The point was closed for entry meanwhile.");
  if (now.draft.textOf(same) !== before) throw new WireError("Something was typed there meanwhile, and stays.");
  return now;
}
