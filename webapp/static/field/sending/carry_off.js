// What is unsent, as a file that the server takes in later: sealed as it lies here.

import { getAll } from "../kept/database.js";
import { tablet } from "../kept/tablet.js";

const UNSENT = /^(outbox|aside|back):/;
const FORMAT = "witnessmark-unsent-1";

/** Return {name, text} of the file with everything that a person has unsent here. */
export async function unsentFile(personId) {
  const [people, rounds, kept] = await Promise.all([getAll("people"), getAll("rounds"), getAll("kept", personId, "person")]);
  const { id, name, by_server } = people.find((one) => one.id === personId);
  const waiting = kept.filter((row) => UNSENT.test(row.name)).sort((a, b) => a.order - b.order);
  const held = [...new Set(waiting.map(({ round }) => round))];
  const label = (round) => rounds.find((one) => one.person === personId && one.round === round)?.label ?? null;
  const file = {
    format: FORMAT,
    tablet: tablet().id,
    device: tablet().label,
    made_at: new Date().toISOString(),
    person: { id, name },
    by_server: by_server && text64(by_server),
    rounds: held.map((round) => ({
      round,
      label: label(round),
      entries: waiting.filter((row) => row.round === round).map(entryOf),
      photos: [],
    })),
  };
  const day = new Date().toISOString().slice(0, 10);
  return { name: `unsent-${tablet().label}-${day}.json`.replaceAll(" ", "-"), text: JSON.stringify(file, null, 1) };
}

function entryOf({ round, name, sealed }) {
  const id = `${round}/${name}`;
  if (sealed.plain === undefined) return { id, sealed: text64(sealed) };
  return { id, sealed: null, entry: JSON.parse(sealed.plain).entry };
}

const text64 = ({ iv, data }) => ({ iv: base64url(iv), data: base64url(data) });

function base64url(bytes) {
  const text = Array.from(new Uint8Array(bytes), (byte) => String.fromCharCode(byte)).join("");
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** Let the browser save a file. */
export function save({ name, text }) {
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = Object.assign(document.createElement("a"), { href: address, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}
