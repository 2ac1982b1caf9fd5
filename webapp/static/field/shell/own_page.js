// The tablet's own page, without a round: what it holds; where a label of it leads.

import { replace } from "../dom.js";
import { tabletPage } from "../sending/tablet_page.js";
import { placeInHeld } from "./held_label.js";
import { labelHere } from "./urls.js";

const NO_SIGNAL = "No signal: that page needs the server. What is on this tablet goes on working.";
const NO_ROUND = "This label is of no round on this tablet.";

/** Draw the page; a label that led here opens what it names, where it is held. */
export async function ownPage(root, person) {
  document.title = "On this tablet · Witnessmark";
  document.getElementById("where").textContent = "On this tablet";
  const label = labelHere();
  const place = label && (await placeInHeld(person, label));
  if (place) return location.replace(place);
  const notice = label ? NO_ROUND : location.hash === "#/no-signal" ? NO_SIGNAL : null;
  replace(root, tabletPage(person, null, notice));
}
