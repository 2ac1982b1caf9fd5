// A JPEG as a camera wrote it: where it was taken, and the same picture without what was noted.
// Markers: ISO/IEC 10918-1, B.1.1.3; what a camera notes: Exif 2.32 (CIPA DC-008), 4.6.

const START = 0xd8;
const END = 0xd9;
const SCAN = 0xda;
const COMMENT = 0xfe;
const APP = [0xe0, 0xef];
const EXIF = "Exif\0\0";
// Application segments that a picture is drawn by: JFIF, colour profile, Adobe's colour transform.
const DRAWN_BY = [[0xe0, "JFIF\0"], [0xe2, "ICC_PROFILE\0"], [0xee, "Adobe"]];
const ORIENTATION = 0x0112;
const GPS = 0x8825;
const BYTES_OF = { 2: 1, 3: 2, 4: 4, 5: 8 }; // of the types that are read: text, short, long, rational

/**
 * Return {place, plain} of a JPEG; null where it is none, or is cut off.
 *
 * *place*: {latitude, longitude} in degrees as text, or null. *plain*: the picture's own bytes without
 * anything that the camera noted, but which side is up.
 */
export function readCameraFile(buffer) {
  const bytes = new Uint8Array(buffer);
  const parts = partsOf(bytes);
  if (!parts) return null;
  const noted = notedIn(bytes, parts.find((one) => one.marker === 0xe1 && begins(bytes, one.from + 4, EXIF)));
  const kept = parts.filter((one) => !isNoted(bytes, one)).map(({ from, to }) => bytes.subarray(from, to));
  const upright = noted.orientation > 1 && noted.orientation <= 8 ? [sideUp(noted.orientation)] : [];
  return { place: noted.place, plain: new Blob([Uint8Array.of(0xff, START), ...upright, ...kept, Uint8Array.of(0xff, END)], { type: "image/jpeg" }) };
}

/** The parts between start and end, a scan with its data as one; null where they do not fit. */
function partsOf(bytes) {
  if (bytes[0] !== 0xff || bytes[1] !== START) return null;
  const found = [];
  let at = 2;
  while (bytes[at] === 0xff && at + 1 < bytes.length) {
    const marker = bytes[at + 1];
    if (marker === 0xff) at += 1; // filled up before a marker
    else if (marker === END) return found;
    else {
      const length = (bytes[at + 2] << 8) | bytes[at + 3];
      let to = at + 2 + length;
      if (!(length >= 2) || to > bytes.length) return null;
      if (marker === SCAN) to = scanEnd(bytes, to);
      found.push({ marker, from: at, to });
      at = to;
    }
  }
  return null;
}

/** Where the data of a scan end: at the next marker that is neither stuffing nor a restart. */
function scanEnd(bytes, from) {
  let at = bytes.indexOf(0xff, from);
  while (at >= 0 && (bytes[at + 1] === 0 || (bytes[at + 1] >= 0xd0 && bytes[at + 1] <= 0xd7))) at = bytes.indexOf(0xff, at + 2);
  return at < 0 ? bytes.length : at;
}

function isNoted(bytes, { marker, from }) {
  if (marker === COMMENT) return true;
  if (marker < APP[0] || marker > APP[1]) return false;
  return !DRAWN_BY.some(([of, name]) => marker === of && begins(bytes, from + 4, name));
}

function begins(bytes, at, words) {
  return [...words].every((letter, i) => bytes[at + i] === letter.charCodeAt(0));
}

/** Exif with one entry: which side is up. */
function sideUp(orientation) {
  const tiff = [0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0, 0, 0, 0, 0];
  return Uint8Array.of(0xff, 0xe1, 0, 2 + EXIF.length + tiff.length, ...[...EXIF].map((letter) => letter.charCodeAt(0)), ...tiff);
}

/** {orientation, place} of what the camera noted; what cannot be read is as not noted. */
function notedIn(bytes, part) {
  if (!part) return { orientation: 1, place: null };
  try {
    const view = new DataView(bytes.buffer, bytes.byteOffset + part.from + 10, part.to - part.from - 10);
    const little = view.getUint16(0) === 0x4949;
    const first = entriesAt(view, view.getUint32(4, little), little);
    const gps = first.has(GPS) ? entriesAt(view, first.get(GPS)[0], little) : new Map();
    return { orientation: first.get(ORIENTATION)?.[0] ?? 1, place: placeOf(gps) };
  } catch {
    return { orientation: 1, place: null };
  }
}

/** tag -> numbers, or characters' codes, of one directory (Exif 2.32, 4.6.2). */
function entriesAt(view, at, little) {
  const found = new Map();
  const count = view.getUint16(at, little);
  for (let i = 0; i < count; i += 1) {
    const entry = at + 2 + 12 * i;
    const [tag, type, many] = [view.getUint16(entry, little), view.getUint16(entry + 2, little), view.getUint32(entry + 4, little)];
    const each = BYTES_OF[type];
    if (!each || many > 8) continue;
    const from = each * many > 4 ? view.getUint32(entry + 8, little) : entry + 8;
    found.set(tag, Array.from({ length: many }, (_, n) => numberAt(view, type, from + each * n, little)));
  }
  return found;
}

function numberAt(view, type, at, little) {
  if (type === 2) return view.getUint8(at);
  if (type === 3) return view.getUint16(at, little);
  if (type === 4) return view.getUint32(at, little);
  return view.getUint32(at, little) / view.getUint32(at + 4, little);
}

/** Latitude and longitude (Exif 2.32, 4.6.6: tags 1 to 4), south and west negative. */
function placeOf(gps) {
  const latitude = degrees(gps.get(1), gps.get(2), "S", 90);
  const longitude = degrees(gps.get(3), gps.get(4), "W", 180);
  return latitude && longitude ? { latitude, longitude } : null;
}

function degrees(side, parts, below, most) {
  if (!side || parts?.length !== 3) return null;
  const [whole, minutes, seconds] = parts;
  const found = whole + minutes / 60 + seconds / 3600;
  if (!(found <= most)) return null; // also what is no number
  return (String.fromCharCode(side[0]) === below ? -found : found).toFixed(5);
}

/** "47.37500° N, 8.53333° E". */
export function placeWords({ latitude, longitude }) {
  const side = (degreesText, above, under) => `${degreesText.replace("-", "")}° ${degreesText.startsWith("-") ? under : above}`;
  return `${side(latitude, "N", "S")}, ${side(longitude, "E", "W")}`;
}
