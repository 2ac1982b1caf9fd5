// One photograph, large: what it shows, what it is about, what is drawn on it.

import { h } from "../dom.js";
import { sizeWords } from "../sending/said.js";
import { placeWords } from "./camera_file.js";
import { DrawingBoard } from "./drawing_board.js";
import { decoded, jpeg } from "./scaled.js";

const LONGEST_NOTE = 500;
const LONGEST_LINE = 120;

/** Open a photograph that is not sent yet; nothing is sent before it is said to be finished. *closed* is told. */
export async function openPhoto(photos, item, card, closed) {
  const plain = await photos.plain(item);
  const picture = await decoded(plain);
  const held = await hold(photos, item);
  const dialog = dialogOf(photos, held, card, { plain, picture });
  document.body.append(dialog);
  dialog.addEventListener("close", () => {
    picture.close();
    dialog.remove();
    closed();
    photos.changed();
  });
  dialog.showModal();
  dialog.querySelector("h2").focus();
}

/** While it is open here it is not sent, whatever becomes of this page. */
async function hold(photos, item) {
  item.ready = false;
  await photos.write(item);
  return item;
}

function dialogOf(photos, item, card, { plain, picture }) {
  const said = h("p", { class: "quiet small photo-said", role: "status" }, "Nothing is sent before you keep it.");
  const note = noteField(item);
  const place = placeField(item);
  const about = aboutField(item, card);
  const line = h("input", { id: "photo-line", maxlength: LONGEST_LINE, autocomplete: "off", placeholder: "" });
  const tools = toolFields();
  const board = new DrawingBoard(picture, item.marks, {
    toolOf: () => tools.querySelector("input:checked").value,
    textOf: () => line.value,
    said: (words) => (said.textContent = words),
  });
  const keep = async () => {
    try {
      await finish(photos, item, { note: note.value, about: about.value, place: place.wanted(), board, plain });
      dialog.close();
    } catch (error) {
      said.textContent = error.message;
    }
  };
  const dialog = h(
    "dialog",
    { class: "photo-dialog", "aria-labelledby": "photo-title" },
    h("h2", { id: "photo-title", tabindex: -1, class: "sheet-title" }, `Photograph · ${card.title}`),
    h("div", { class: "photo-place" }, board.canvas),
    h(
      "div",
      { class: "photo-fields" },
      tools,
      field("photo-line", "Line of text for the picture", line),
      h("button", { type: "button", class: "button", onclick: () => board.undo() }, "Undo"),
      field("photo-note", "What it shows", note),
      field("photo-about", "About", about),
      place.draw,
      photos.originalOf(item) && h("p", { class: "small quiet" }, `The original (${sizeWords(photos.originalOf(item).size)}) is kept as well, and sent last of all.`),
      item.kept_words && h("p", { class: "small" }, item.kept_words),
      said,
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", class: "button button-main", onclick: keep }, "Keep photograph"),
        h("button", { type: "button", class: "button button-quiet", onclick: () => dialog.close() }, "Not yet"),
      ),
    ),
  );
  return dialog;
}

const field = (id, words, input) => h("div", { class: "field" }, h("label", { for: id }, words), input);

const noteField = (item) =>
  h("input", { id: "photo-note", maxlength: LONGEST_NOTE, autocomplete: "off", value: item.note });

function aboutField(item, card) {
  const options = [
    ["", "the whole card"],
    ...card.points.map(({ id, label }) => [`point ${id}`, label]),
    ...card.deficiencies.filter(({ waiting }) => !waiting).map(({ id, number, text }) => [`deficiency ${id}`, `${number} ${text}`.slice(0, 80)]),
  ];
  const value = item.point_id ? `point ${item.point_id}` : item.deficiency_id ? `deficiency ${item.deficiency_id}` : "";
  return h("select", { id: "photo-about", value }, options.map(([key, words]) => h("option", { value: key }, words)));
}

/** The place that the camera noted is left out unless somebody wants it. */
function placeField({ found_place: found, place }) {
  if (!found) return { draw: null, wanted: () => null };
  const wish = h("input", { type: "checkbox", id: "photo-place", checked: place !== null });
  const words = `Record where it was taken: ${placeWords(found)}. It is printed with the photograph. Else the place is left out, with all else that the camera noted.`;
  return { draw: h("label", { class: "choice" }, wish, h("span", {}, words)), wanted: () => (wish.checked ? found : null) };
}

function toolFields() {
  const tool = (value, words) =>
    h(
      "label",
      { class: "choice" },
      h("input", { type: "radio", name: "photo-tool", value, checked: value === "arrow" }),
      h("span", {}, words),
    );
  return h("fieldset", { class: "field" }, h("legend", {}, "Draw on it"), tool("arrow", "Arrow"), tool("text", "Text"));
}

/** What is drawn becomes part of the picture, and is kept as data beside it. */
async function finish(photos, item, { note, about, place, board, plain }) {
  const [kind, id = null] = about.split(" ");
  Object.assign(item, {
    note: note.trim(),
    point_id: kind === "point" ? id : null,
    deficiency_id: kind === "deficiency" ? id : null,
    marks: board.marks,
    place,
    found_place: place, // one that is not wanted stays nowhere
    ready: true,
    why: "",
    sent: 0,
  });
  const drawn = board.marks.length > 0;
  await photos.keep(item, drawn ? await jpeg(board.finished()) : plain, drawn ? plain : null);
}
