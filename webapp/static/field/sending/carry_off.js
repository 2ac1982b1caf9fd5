// What is unsent, as files that the server takes in later: sealed as it lies here.

import { get, getAll } from "../kept/database.js";
import { tablet } from "../kept/tablet.js";
import { toBase64 } from "../kept/vault.js";

const UNSENT = /^(outbox|aside|back):/;
const FORMAT = "witnessmark-unsent-1";
const MOST = 24_000_000; // bytes of photographs in one file: the server takes 40 MB, written in base64
/** What a person has to know before they count on the file. */
export const NOT_IN_THE_FILE = "Photographs that are not finished, originals and signatures to be given are not in it.";
const BETWEEN_MS = 500; // browsers drop downloads that begin at one moment

/**
 * Return the files with everything that a person has unsent here: [{name, blob}].
 *
 * The entries are all in the first one, photographs in as many as they need. Originals
 * beside a scaled picture, and what is not finished, stay on the tablet. What is sealed
 * under a key of before (`people.js`) goes into files of its own: one key opens a file.
 */
export async function unsentFiles(personId) {
  const [person, rounds, kept, photos] = await Promise.all([get("people", personId), getAll("rounds"), getAll("kept", personId, "person"), getAll("photos")]);
  const label = (round) => rounds.find((one) => one.person === personId && one.round === round)?.label ?? null;
  const entries = kept.filter((row) => UNSENT.test(row.name)).sort((a, b) => a.order - b.order);
  const pictures = photos.filter((row) => row.person === personId && row.ready && !row.original_of);
  pictures.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const parts = [person, ...(person.before ?? [])].flatMap(({ by_server }, place) => {
    const own = (row) => (row.before ?? -1) === place - 1;
    const held = entries.filter(own);
    return inParts(pictures.filter(own)).map((photos, index) => [{ ...person, by_server }, index ? [] : held, photos]);
  });
  const full = parts.filter(([, held, photos]) => held.length || photos.length);
  return full.map(([under, held, photos], index) => {
    const file = fileOf(under, held, photos, label);
    const which = full.length > 1 ? `-${index + 1}-of-${full.length}` : "";
    const name = `unsent-${tablet().label}-${file.made_at.slice(0, 10)}${which}.json`.replaceAll(" ", "-");
    return { name, blob: new Blob([JSON.stringify(file, null, 1)], { type: "application/json" }) };
  });
}

/** Photographs in parts that the server takes at once; one part at least. */
function inParts(photos) {
  const parts = [[]];
  let size = 0;
  for (const photo of photos) {
    if (size && size + photo.size > MOST) {
      parts.push([]);
      size = 0;
    }
    parts.at(-1).push(photo);
    size += photo.size;
  }
  return parts;
}

function fileOf({ id, name, by_server }, entries, photos, label) {
  const held = [...new Set([...entries, ...photos].map(({ round }) => round))];
  const of = (rows, round) => rows.filter((row) => row.round === round);
  return {
    format: FORMAT,
    tablet: tablet().id,
    device: tablet().label,
    made_at: new Date().toISOString(),
    person: { id, name },
    by_server: by_server && text64(by_server),
    rounds: held.map((round) => ({
      round,
      label: label(round),
      entries: of(entries, round).map(entryOf),
      photos: of(photos, round).map(photoOf),
    })),
  };
}

function entryOf({ round, name, sealed }) {
  const id = `${round}/${name}`;
  if (sealed.plain === undefined) return { id, sealed: text64(sealed) };
  return { id, sealed: null, entry: JSON.parse(sealed.plain).entry };
}

/** What is not sealed stands as base64url alone. */
function photoOf({ id, at, size, meta, image }) {
  const utf8 = (words) => toBase64(new TextEncoder().encode(words));
  if (meta.plain === undefined) return { id, at, size, meta: text64(meta), image: text64(image) };
  return { id, at, size, meta: utf8(meta.plain), image: toBase64(image.plain) };
}

const text64 = ({ iv, data }) => ({ iv: toBase64(iv), data: toBase64(data) });

/** Let the browser save files, one after the other. */
export async function save(files) {
  for (const { name, blob } of files) {
    const address = URL.createObjectURL(blob);
    const link = Object.assign(document.createElement("a"), { href: address, download: name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
    if (files.length > 1) await new Promise((done) => setTimeout(done, BETWEEN_MS));
  }
}
