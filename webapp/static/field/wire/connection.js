// The one instrument that is on the wire now, and asking it for a value.

import { WireError } from "./lines.js";
import { Wire } from "./port.js";
import { ERRORS, queryFault, readAnswer, readError, readWho, WHO } from "./scpi.js";
import { queryOf, wireOf } from "./settings.js";
import { unitOfAnswer } from "./units.js";

const OLD_ERRORS = 20; // so many are taken out of the instrument's list at the start
const ERROR_WAIT_S = 2;

let here = null;

/** What is connected: {instrument, who, said, errors, same, agreed, wire}; null where nothing is. */
export const connected = () => (here && !here.wire.gone ? here : null);

/** Ask the person for a port; must be called by a tap. */
export async function choosePort() {
  try {
    return await navigator.serial.requestPort();
  } catch (error) {
    if (error.name === "NotFoundError") throw new WireError("No port was chosen.");
    throw new WireError("This page may not use the wire: the browser or its administrator forbids it.");
  }
}

/** Open *port* for an instrument of the register, and ask who it is. */
export async function connect(port, instrument) {
  await disconnect();
  const wire = new Wire(port, wireOf(instrument.id));
  await wire.open();
  try {
    const said = await wire.ask(WHO);
    const who = readWho(said);
    wire.known = said;
    here = { wire, instrument, who, said, same: sameSerial(who, instrument), agreed: false };
    here.errors = wire.settings.errors && (await emptyErrors(wire));
  } catch (error) {
    here = null;
    await wire.close();
    throw error;
  }
  return here;
}

/** Open the port that was allowed before, without asking; throws where that is not one. */
export async function connectAgain(instrument) {
  const ports = await navigator.serial.getPorts();
  if (ports.length !== 1) throw new WireError(`${instrument.tag} is not connected.`);
  return connect(ports[0], instrument);
}

export async function disconnect() {
  const { wire } = here ?? {};
  here = null;
  await wire?.close();
}

/** Whether the serial number told is that of the register: "same", "other", or "untold". */
export function sameSerial({ serial }, { serial: registered }) {
  const bare = (text) => (text ?? "").replace(/\s/g, "").toUpperCase();
  if (!bare(serial) || !bare(registered)) return "untold";
  return bare(serial) === bare(registered) ? "same" : "other";
}

/** Old errors are not those of the next reading; false where the instrument answers none. */
async function emptyErrors(wire) {
  try {
    for (let each = 0; each < OLD_ERRORS; each += 1) if (!readError(await wire.ask(ERRORS, ERROR_WAIT_S))) return true;
    return true;
  } catch (error) {
    if (wire.gone) throw error;
    return false;
  }
}

/**
 * Ask for one value of *quantity*: {answer, text, unit, query, said}. Throws WireError with
 * a sentence, and nothing was read then.
 */
export async function askValue(instrument, quantity) {
  const { wire, errors, said } = standing(instrument);
  const query = queryOf(instrument.id, quantity);
  const wrong = queryFault(query.text);
  if (wrong) throw new WireError(wrong);
  const answer = await wire.ask(query.text).catch(async (error) => {
    throw new WireError(await withReported(wire, errors, error.message));
  });
  const reported = errors ? readError(await wire.ask(ERRORS, ERROR_WAIT_S)) : "";
  if (reported) throw new WireError(`The instrument reports an error: ${reported}. It had answered “${answer}”.`);
  const { text, suffix } = readAnswer(answer);
  return { answer, text, unit: unitOfAnswer(suffix, query.unit), query: query.text, said };
}

/** The connection to an instrument; throws where it is another's, or not to be trusted. */
function standing(instrument) {
  if (here?.wire.gone) throw new WireError(here.wire.gone);
  if (!here) throw new WireError(`${instrument.tag} is not connected.`);
  if (here.instrument.id !== instrument.id) throw new WireError(`${here.instrument.tag} is on the wire, and this card has ${instrument.tag}.`);
  if (here.same === "other" && !here.agreed) {
    throw new WireError(`What is on the wire says serial number ${here.who.serial}, and the register says ${instrument.serial} for ${instrument.tag}.`);
  }
  return here;
}

/** Where no answer came the instrument may say why. */
async function withReported(wire, errors, words) {
  if (!errors || wire.gone) return words;
  const reported = await wire.ask(ERRORS, ERROR_WAIT_S).then(readError).catch(() => "");
  return reported ? `${words} The instrument reports: ${reported}.` : words;
}
