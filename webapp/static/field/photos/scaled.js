// A picture from the camera or a file, scaled down on the tablet: pixels alone are kept.

export const LONGEST_SIDE = 2048; // pixels: a nameplate can still be read
const QUALITY = 0.85;

/**
 * Return {blob, longest}: a JPEG of at most 2048 px, without place or maker, and the longer side
 * that the picture had; throws what to say.
 */
export async function scaled(file) {
  const picture = await decoded(file);
  const scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
  const canvas = canvasOf(Math.round(picture.width * scale), Math.round(picture.height * scale));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  const longest = Math.max(picture.width, picture.height);
  picture.close();
  return { blob: await jpeg(canvas), longest };
}

/** Decode; turned as the camera said. */
export async function decoded(file) {
  if (!file.size) throw new Error(`${file.name} is empty: take the photograph again.`);
  try {
    return await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw new Error(faultOf(file));
  }
}

function faultOf({ name, type }) {
  if (/hei[cf]/i.test(type) || /\.hei[cf]$/i.test(name)) {
    return `${name} is a HEIC picture, which this browser cannot open: set the camera to JPEG (most compatible), or choose a JPEG or PNG.`;
  }
  return `${name} is no picture that this browser can open: choose a JPEG, PNG or WebP.`;
}

export function canvasOf(width, height) {
  return Object.assign(document.createElement("canvas"), { width: Math.max(1, width), height: Math.max(1, height) });
}

/** Written at once: `toBlob` waits for an idle page, which took above 5 s on a busy one. */
export async function jpeg(canvas) {
  const [, written] = canvas.toDataURL("image/jpeg", QUALITY).split(";base64,");
  if (!written) throw new Error("This tablet cannot write the picture: it is too large for it.");
  return new Blob([Uint8Array.from(atob(written), (letter) => letter.charCodeAt(0))], { type: "image/jpeg" });
}
