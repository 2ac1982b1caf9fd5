// The wider scopes at the head of a card: one line each, with name and time.

import { h } from "../dom.js";
import { lapseWord } from "../safety/words.js";
import { counted, mark } from "../words.js";
import { clockAt } from "./site_clock.js";
import { groundWords } from "./noted_fields.js";

const CLOSED_BY = {
  crew: ["crew_", "stopped"],
  isolation: ["isolation_", "density_first"],
  point: ["point_", "ground_off", "springs_charged"],
};

/** Draw the lines of crew, isolation and point of work, as far as the card rests on them. */
export function wideScopes(store, card, standing) {
  const { rests_on: restsOn } = store.safety.book.cards[card.id];
  const rows = [
    restsOn.includes("crew") && crewRow(store, standing),
    restsOn.includes("isolation") && isolationRow(store, standing),
    restsOn.includes("point") && pointRow(store, card, standing),
  ].filter(Boolean);
  return h("section", { class: "sheet wide-scopes", "aria-label": "Safety this card rests on" }, h("ul", { class: "lines" }, rows));
}

/** The reason of this scope that closes the card, or undefined. */
function closing(standing, scope) {
  return standing.reasons.find(({ code }) => CLOSED_BY[scope].some((begin) => code.startsWith(begin)) && code !== "stopped");
}

function row(stands, words, way) {
  return h(
    "li",
    { class: `wide-scope${stands ? "" : " wide-scope-open"}` },
    mark(stands ? "done" : "open"),
    h("p", {}, words),
    way && h("a", { class: `button${stands ? " button-quiet" : ""}`, href: way.href, "aria-label": way.name }, way.words),
  );
}

function way(stands, open, href, about) {
  const words = stands ? "See" : open;
  return { href, words, name: `${words}: ${about}` };
}

function crewRow(store, standing) {
  const { crew } = standing;
  const why = closing(standing, "crew");
  const own = store.safety.site().crews.find((one) => one.of === crew.of);
  const stands = crew.state === "stands" && !why;
  return row(stands, crewWords(store, crew, own, why), way(stands, why?.code === "crew_not_signed_on" ? "Sign in" : "Crew", "#/safety/crew", "crew"));
}

function crewWords(store, crew, own, why) {
  const at = (time) => clockAt(Date.parse(time), store.zone);
  if (crew.state === "none") return "Crew: not open";
  if (crew.state === "ended") return `Crew ended ${at(crew.at)}`;
  if (crew.state === "lapsed") return `Crew lapsed ${at(crew.at)}: ${causeWords(store, crew)}`;
  if (crew.state === "filling") return `Crew: ${linesOpen(crew)}`;
  const people = own?.people.filter((one) => one.since && !one.left).length ?? 0;
  const head = `Crew since ${at(crew.since)}, in charge ${own?.in_charge ?? crew.by}, ${people} signed in`;
  return why?.code === "crew_not_signed_on" ? `${head}; ${store.safety.speaker.name} is not` : head;
}

function isolationRow(store, standing) {
  const { isolation } = standing;
  const why = closing(standing, "isolation");
  const own = store.safety.site().isolations.find((one) => one.of === isolation.of);
  const stands = isolation.state === "stands" && !why;
  const href = `#/safety/isolation${isolation.of ? `/${isolation.of}` : ""}`;
  return row(stands, isolationWords(store, isolation, own, why), way(stands, why?.code === "isolation_not_signed_on" ? "Sign on" : "Clearance", href, "clearance"));
}

function isolationWords(store, isolation, own, why) {
  const at = (time) => clockAt(Date.parse(time), store.zone);
  if (isolation.state === "none") return "Clearance: none taken";
  const name = ["Clearance", own?.clearance].filter(Boolean).join(" ");
  if (isolation.state === "ended") return `${name} handed back ${at(isolation.at)}`;
  if (isolation.state === "lapsed") return `${name} lapsed ${at(isolation.at)}: ${causeWords(store, isolation)}`;
  if (isolation.state === "filling") return `${name}: ${linesOpen(isolation)}`;
  const locks = own.sources.filter(({ fields }) => !fields.gone).length;
  const part = own.section ?? store.safety.book.lineups[own.lineup]?.name;
  const head = [name, part, counted(locks, "lock"), groundCount(own)].filter(Boolean).join(", ");
  return why?.code === "isolation_not_signed_on" ? `${head}; ${store.safety.speaker.name} is not signed on` : head;
}

function groundCount({ grounds }) {
  const here = grounds.filter(({ fields }) => !fields.gone);
  const off = here.filter((one) => one.off_for).length;
  return off ? `${here.length - off} of ${counted(here.length, "ground")} on` : counted(here.length, "ground");
}

function pointRow(store, card, standing) {
  const { point } = standing;
  const cell = store.doc.cells.find((one) => one.id === card.cell_id);
  const why = closing(standing, "point");
  const stands = point.state === "stands" && !why;
  const open = point.state === "none" || point.state === "lapsed" ? `Enter cell ${cell.number}` : `Cell ${cell.number}`;
  return row(stands, [pointWords(store, cell, point, why), stands && offWords(store, card, point)], way(stands, open, `#/safety/point/${cell.id}`, `cell ${cell.number}`));
}

function pointWords(store, cell, point, why) {
  const at = (time) => clockAt(Date.parse(time), store.zone);
  const name = `Cell ${cell.number}`;
  if (point.state === "none") return `${name}: not entered`;
  if (why?.code === "point_held") return `${name} is held by ${why.facts.by}`;
  if (point.state === "lapsed") return point.cause === "left" ? `${name} left ${at(point.at)}` : `${name} lapsed ${at(point.at)}: ${causeWords(store, point)}`;
  if (point.state === "filling") return `${name}: ${linesOpen(point)}`;
  const dead = point.lines.find(({ code }) => code === "G10b") ?? point.lines.find(({ code }) => code.startsWith("G10"));
  const head = `${name} dead ${at(dead?.at ?? point.since)}`;
  return [head, detectorWords(point), groundsOfPoint(store, point)].filter(Boolean).join(", ");
}

function detectorWords({ lines }) {
  const named = lines.find(({ noted }) => noted.detector);
  return named && `detector ${named.noted.detector}`;
}

/** The grounds that hold this cell, as they stand on the register. */
function groundsHere(store, { lines }) {
  const items = lines.find(({ code }) => code === "G13e")?.noted.grounds ?? [];
  const all = store.safety.site().isolations.flatMap(({ grounds }) => grounds);
  return items.map((item) => all.find((one) => one.item === item)).filter(Boolean);
}

/** A ground that is off for this card leaves the cell to be taken for live. */
function offWords(store, card, point) {
  const off = groundsHere(store, point).filter((one) => one.off_for === card.id);
  if (!off.length) return null;
  return h("strong", { class: "word-outside" }, ` Off for this test: ${off.map((one) => groundWords(one)).join(" and ")}. Counts as live.`);
}

function groundsOfPoint(store, point) {
  const named = groundsHere(store, point).filter((one) => !one.off_for);
  return named.length ? `ground ${named.map((one) => groundWords(one)).join(" and ")}` : "";
}

function linesOpen({ lines }) {
  return `${counted(lines.filter(({ state }) => ["open", "lapsed"].includes(state)).length, "line")} open`;
}

/** Why it lapsed: as it was written where somebody wrote it, else by its word. */
export function causeWords(store, { of, at, cause }) {
  const written = store.safety.acts.find((act) => act.act === "change" && act.of === of && Date.parse(act.at) === Date.parse(at));
  return written?.cause || lapseWord(store, cause, at);
}
