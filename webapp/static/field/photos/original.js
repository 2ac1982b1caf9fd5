// What comes from the camera: scaled to be sent, and the original beside it where there is room.

import { room } from "../kept/room.js";
import { setting } from "../kept/settings.js";
import { readCameraFile } from "./camera_file.js";
import { LONGEST_SIDE, scaled } from "./scaled.js";

const LARGEST = 50_000_000; // bytes of a file that is opened here
const LEFT_FREE = 500_000_000; // bytes that an original leaves for readings and other photographs

/**
 * Return {blob, place, original, why}: the scaled picture, where it was taken (or null), the original without
 * what the camera noted (or null) and, where that is not kept, why in words. Throws what to say of a bad file.
 */
export async function fromCamera(file) {
  if (file.size > LARGEST) {
    throw new Error(`${file.name} has ${megabytes(file.size)}: pictures of at most 50 MB are opened here. Set the camera to a smaller size, or choose another.`);
  }
  const { blob, longest } = await scaled(file);
  const read = readCameraFile(await file.arrayBuffer());
  const why = await whyNot(file, longest, read);
  return { blob, place: read?.place ?? null, original: why === null ? read.plain : null, why: why ?? "" };
}

/** Why the original is not kept: "" where nobody misses it, null where it is kept. */
async function whyNot(file, longest, read) {
  if (longest <= LONGEST_SIDE || setting("scaled-only", false)) return "";
  if (!read) return "Only the scaled picture is kept: originals are kept of JPEG pictures.";
  const { used, quota } = await room();
  if (quota === null) return "Only the scaled picture is kept: this browser does not say how much room there is.";
  if (quota - used - file.size < LEFT_FREE) {
    return `Only the scaled picture is kept: there is no room on this tablet for the original (${megabytes(file.size)}).`;
  }
  return null;
}

const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;
