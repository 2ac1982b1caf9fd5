// The photographs of a card: what is on record, what is on this tablet, and a new one.

import { h } from "../dom.js";
import { sizeWords } from "../sending/said.js";
import { siteTime } from "../words.js";
import { thumbnail } from "./thumbnails.js";

// Fetched when first wanted, from what this tablet holds; a page that holds nothing fetches it while there is signal.
const dialog = () => import("./photo_dialog.js");
const camera = () => import("./original.js");
if (!navigator.serviceWorker) Promise.all([dialog(), camera()]).catch(() => {});

/** Draw the photographs of a card, with buttons for a new one where the round is open. */
export function photoPanel(store, card, ui) {
  const { photos } = store;
  const attached = store.cards.get(card.id)?.attachments ?? [];
  const kept = photos.of(card.id);
  return h(
    "section",
    { class: "sheet photos", "aria-label": "Photographs and files" },
    h("h2", { class: "sheet-title" }, "Photographs and files"),
    !attached.length && !kept.length && h("p", { class: "quiet" }, "None on this card."),
    attached.length > 0 && h("ul", { class: "lines" }, attached.map((one) => onRecord(store, one))),
    kept.length > 0 && h("ul", { class: "lines" }, kept.map((item) => onTablet(store, card, ui, item))),
    ui.photoFault && h("p", { class: "fault", role: "alert" }, ui.photoFault),
    store.mayRecord && card.state !== "withdrawn" && addButtons(store, card, ui),
  );
}

function onRecord(store, { id, name, note, by, at }) {
  return h(
    "li",
    {},
    h("a", { class: "photo-link", href: `/files/${id}`, target: "_blank", rel: "noopener" }, name),
    note && h("p", {}, note),
    h("p", { class: "detail" }, `on the record · ${by}, ${siteTime(at, store.zone)}`),
  );
}

function onTablet(store, card, ui, item) {
  const { photos } = store;
  const remove = ui.removing === item.id;
  const act = (words, onclick, kind = "", focus = null) =>
    h("button", { type: "button", class: `button ${kind}`, onclick, "data-focus": focus }, words);
  const asking = `photo-ask:${item.id}`; // of both answers: the focus goes to the one that removes nothing
  const ask = (id) => () => {
    ui.removing = id;
    store.changed();
  };
  return h(
    "li",
    { class: "photo" },
    item.original_of ? h("span", { class: "photo-small" }) : thumbnail(photos, item),
    h(
      "div",
      {},
      h("p", {}, item.note || item.name),
      h("p", { class: "detail" }, `${stateWords(photos, item)} · taken ${siteTime(item.at, store.zone)}`),
      photos.originalOf(item) && h("p", { class: "detail" }, `with its original, ${sizeWords(photos.originalOf(item).size)}: sent last of all`),
      item.why && h("p", { class: "fault" }, item.why),
      h(
        "div",
        { class: "actions" },
        remove
          ? [act("Remove it for good", () => photos.drop(item), "button-main"), act("Keep it", ask(null), "", asking)]
          : [
              item.why && act("Try again", () => photos.queue.again(item)),
              !item.original_of && act(item.ready ? "Draw or describe" : "Finish it", () => opened(photos, item, card, ui), "", opener(item)),
              act("Remove", ask(item.id), "button-quiet", asking),
            ],
      ),
    ),
  );
}

/** Where a photograph is, in words. */
function stateWords({ queue }, { id, ready, why, sent, size }) {
  if (!ready) return "not finished: not sent yet";
  if (why) return "kept on this tablet, not taken by the server";
  if (queue.sending === id || sent) return `sending ${Math.floor((100 * sent) / size)} %`;
  return "kept on this tablet";
}

const opener = (item) => `photo:${item.id}`;

/** The dialog; once it is closed the focus is where it is opened again. */
async function show(photos, item, card, ui) {
  const { openPhoto } = await dialog();
  await openPhoto(photos, item, card, () => (ui.focus = opener(item)));
}

async function opened(photos, item, card, ui) {
  try {
    await show(photos, item, card, ui);
  } catch (error) {
    ui.photoFault = error.message;
    photos.changed();
  }
}

function addButtons(store, card, ui) {
  return h(
    "div",
    { class: "actions" },
    chooser(store, card, ui, "Take a photograph", { capture: "environment" }),
    chooser(store, card, ui, "Choose a picture", {}),
  );
}

/** A file field behind a label that looks like a button; the field itself takes the focus. */
function chooser(store, card, ui, words, how) {
  const take = async ({ target }) => {
    const [file] = target.files;
    target.value = "";
    if (file) await taken(store, card, ui, file);
  };
  return h("label", { class: "button photo-choose" }, words, h("input", { type: "file", accept: "image/*", class: "out-of-sight", "data-focus": words, onchange: take, ...how }));
}

async function taken(store, card, ui, file) {
  ui.photoFault = "";
  try {
    const { fromCamera } = await camera();
    const item = await store.photos.add(card.id, { ...(await fromCamera(file)), name: jpegName(file.name) });
    await show(store.photos, item, card, ui);
  } catch (error) {
    ui.photoFault = `${error.message} What was kept before stays.`;
  }
  store.changed();
}

const jpegName = (name) => `${name.replace(/\.[^.]*$/, "").slice(0, 100) || "photograph"}.jpg`;
