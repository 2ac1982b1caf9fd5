// Small pictures of what this tablet keeps, made when first shown.

import { h } from "../dom.js";
import { canvasOf, decoded } from "./scaled.js";

const SIDE = 144; // pixels
const made = new Map(); // `id digest` -> canvas

/** Return a place for the small picture; it is filled once the picture is open. */
export function thumbnail(photos, item) {
  const place = h("span", { class: "photo-small", "aria-hidden": "true" });
  const name = `${item.id} ${item.digest ?? item.size}`;
  const found = made.get(name);
  if (found) place.append(found);
  else small(photos, item).then((canvas) => place.append(made.set(name, canvas).get(name)), () => {});
  return place;
}

async function small(photos, item) {
  const picture = await decoded(await photos.picture(item));
  const scale = SIDE / Math.max(picture.width, picture.height);
  const canvas = canvasOf(picture.width * scale, picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return canvas;
}
