// The page that looks for a label: the camera's picture, and what is said about it.

import { h } from "../dom.js";
import { lookThroughCamera } from "./camera.js";
import { labelledId, placeInRound } from "./labelled.js";

const NO_LABEL = "This code is not a label of this program.";
const ELSEWHERE = "This label is not of this lineup.";

/** Draw the page; what is found is opened at once. */
export function scanView(store, ui) {
  ui.scan ??= begin(store, ui);
  return h(
    "section",
    { class: "sheet scan", "aria-labelledby": "scan-title" },
    h("h1", { id: "scan-title", tabindex: -1 }, "Scan a label"),
    h("p", {}, "Hold the label of a cell or an apparatus before the camera: its card opens."),
    ui.scan.video,
    ui.scan.said,
    h("p", { class: "actions" }, h("a", { class: "button", href: "#/" }, "‹ Elevation"), ui.scan.onward),
  );
}

function begin(store, ui) {
  const video = h("video", { class: "scan-picture", muted: true, playsinline: true, "aria-label": "What the camera sees" });
  const said = h("p", { class: "strong", role: "status" }, "The camera starts …");
  const onward = h("span", {});
  const scan = { video, said, onward, stop: () => {} };
  const close = () => {
    if (location.hash === "#/scan") return;
    scan.stop();
    ui.scan = null;
    removeEventListener("hashchange", close);
  };
  addEventListener("hashchange", close);
  lookThroughCamera(video, (text) => take(store, scan, text)).then(
    (stop) => {
      scan.stop = stop;
      said.textContent = "Looking for a code …";
      close();
    },
    (error) => {
      video.hidden = true;
      said.textContent = error.message;
    },
  );
  return scan;
}

/** Open what a code names; true where the camera may stop. */
function take(store, scan, text) {
  const id = labelledId(text);
  const place = id && placeInRound(store.doc, id);
  if (place) {
    location.hash = place;
    return true;
  }
  scan.said.textContent = id ? ELSEWHERE : NO_LABEL;
  const way = h("a", { class: "button", href: `/a/${id}` }, "Open it");
  scan.onward.replaceChildren(...(id ? [way] : []));
  return false;
}
