// What the program knows is shown at its line and not asked.

import { chosenInstrument } from "../conditions.js";
import { valueWords } from "./noted_words.js";
import { clockAt, spanWords } from "./site_clock.js";

export const SERIAL = "instrument_serial"; // the field that the chosen instrument fills

/** Return {name: {value, words}} of the fields of a line that the card knows itself. */
export function knownValues(store, card, code, timer) {
  const { fields } = store.safety.book.lines[code];
  const scope = store.safety.book.lines[code].scope;
  const known = {
    ...ofInstrument(store, card),
    ...ofRelay(card),
    ...(scope === "after" && ofBefore(store, card)),
    ...ofTimer(store, timer),
  };
  return Object.fromEntries(fields.filter((name) => known[name]).map((name) => [name, known[name]]));
}

function ofInstrument(store, card) {
  const instrument = chosenInstrument(store, card);
  if (!instrument) return { [SERIAL]: { fault: "Choose the instrument.", words: "as chosen below" } };
  const { tag, serial } = instrument;
  return { [SERIAL]: { value: serial ?? tag, words: [serial, tag].filter(Boolean).join(" · ") } };
}

/** The serial number that the label of the relay has to agree with. */
function ofRelay({ apparatus: { serial } }) {
  return serial ? { relay_serial: { value: serial, words: serial } } : {};
}

// After the test -> before it: what was opened, lifted or defeated is what goes back.
const GOES_BACK = { grounds: "grounds", interlocks_back: "interlocks_defeated", ground_closed: "ground_opened" };

function ofBefore(store, card) {
  const given = store.safety.acts.filter((act) => act.act === "line" && act.scope === "test" && act.of === card.id);
  const noted = Object.assign({}, ...given.map((act) => act.noted));
  const known = Object.entries(GOES_BACK).filter(([, from]) => noted[from]);
  return Object.fromEntries(
    known.map(([name, from]) => [name, { value: noted[from], words: valueWords(store, store.safety.book.fields[name], noted[from]) }]),
  );
}

function ofTimer(store, timer) {
  if (!timer) return {};
  const time = (ms) => ({ value: new Date(ms).toISOString(), words: clockAt(ms, store.zone) });
  return {
    dc_s: { value: timer.dcS, words: spanWords(timer.dcS) },
    ground_least_s: { value: timer.leastS, words: spanWords(timer.leastS) },
    ground_on_at: time(timer.offMs),
    ground_off_at: time(store.safety.now()),
  };
}
