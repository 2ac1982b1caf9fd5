// How much room there is, and whether the browser may clear it.

import { h } from "../dom.js";
import { sizeWords } from "./said.js";

/** What is said of this tablet's storage. */
export function storagePart({ used, quota, persistent }) {
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "storage" },
    h("h2", { class: "sheet-title", id: "storage" }, "Storage"),
    used !== null && h("p", {}, `${sizeWords(used)} used of the ${sizeWords(quota)} that the browser allows here.`),
    h("p", {}, persistentWords(persistent)),
  );
}

function persistentWords(persistent) {
  if (persistent) return "The browser keeps it until somebody clears it.";
  if (persistent === null) return "This browser does not say whether it may clear it by itself: send what is unsent each day.";
  return "The browser may clear it when the tablet runs out of room: send what is unsent each day, and leave room.";
}
