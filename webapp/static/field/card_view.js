// One card: preconditions first, then conditions, points, findings, signature.

import { conditionsPanel } from "./conditions.js";
import { h } from "./dom.js";
import { deficienciesPanel, mayEdit, notesPanel, startDeficiency } from "./findings.js";
import { Points } from "./points.js";
import { codesOf, openCodes, preconditionList } from "./preconditions.js";
import { signingPanel } from "./signing.js";
import { siteTime } from "./words.js";

/** Draw the card, as a list of its parts. */
export function cardView(store, card, ui) {
  const open = openCodes(store, card, false);
  const parts = [head(store, card), notices(store, card)];
  ui.points = null;
  const before = () => preconditionList(store, card, ui, false, "Preconditions");
  if (open.length && mayEdit(store, card)) {
    return [...parts, method(store, card), disclaimer(store), before(), openingBar(store, open)];
  }
  parts.push(preconditionsSummary(store, card, ui));
  if (ui.readAgain) parts.push(method(store, card), disclaimer(store), before());
  const points = new Points(store, card, ui, (point, reading) =>
    startDeficiency(store, card, point, reading),
  );
  ui.points = points;
  if (mayEdit(store, card)) parts.push(conditionsPanel(store, card, (ask) => reread(store, points, ask)));
  parts.push(points.draw());
  if (mayEdit(store, card)) parts.push(bottomBar(store, card, ui, points));
  if (codesOf(store, card, true).length) {
    parts.push(preconditionList(store, card, ui, true, "After the test"));
  }
  parts.push(
    h("div", { class: "findings" }, deficienciesPanel(store, card), notesPanel(store, card)),
    signingPanel(store, card, ui),
  );
  return parts;
}

/** A condition changed: the verdicts follow at once, the grid where its shape depends on it. */
function reread(store, points, ask) {
  if (ask?.choices.length) store.changed();
  else points.judge();
}

function head(store, card) {
  const cell = store.doc.cells.find((one) => one.id === card.cell_id);
  const of = store.doc.cards.length;
  return h(
    "div",
    { class: "headline" },
    h(
      "div",
      {},
      h("h1", { tabindex: -1, id: "card-title" }, `${card.title} · ${card.apparatus.label}`),
      h("p", {}, `Cell ${cell.number} ${cell.name} · card ${card.position} of ${of} · ${card.detail}`),
    ),
    h(
      "p",
      { class: "actions" },
      h("a", { class: "button", href: `#/cells/${cell.id}` }, "‹ Elevation"),
    ),
  );
}

function notices(store, card) {
  const cardFaults = store.faultsAt(card.id, "card");
  return [
    cardFaults.length > 0 && h("div", { class: "notice notice-fault", role: "alert" }, cardFaults.map((said) => h("p", {}, said))),
    card.state === "returned" &&
      h(
        "div",
        { class: "notice notice-care" },
        h("p", { class: "strong" }, `Returned by ${card.returned.by}, ${siteTime(card.returned.at, store.zone)}`),
        h("p", {}, card.returned.reason),
      ),
    card.state === "withdrawn" &&
      h(
        "div",
        { class: "notice notice-care" },
        h("p", {}, `Withdrawn by ${card.withdrawn.by}: ${card.withdrawn.reason}`),
      ),
    store.doc.round.state !== "open" &&
      h("div", { class: "notice" }, h("p", {}, `This round is ${store.doc.round.state}: it can be read, and nothing more entered.`)),
  ];
}

function method(store, card) {
  return h(
    "section",
    { class: "sheet", "aria-label": "How it is tested" },
    h("h2", { class: "sheet-title" }, "How it is tested"),
    h("p", {}, store.doc.procedures[card.procedure].method),
  );
}

function disclaimer(store) {
  return h("p", { class: "disclaimer" }, store.doc.disclaimer);
}

function openingBar(store, open) {
  return h(
    "div",
    { class: "bottom-bar" },
    h("span", {}, `The card opens when ${open.length === 1 ? "the last precondition is" : `${open.length} more preconditions are`} confirmed.`),
    h("a", { class: "button", href: "#/", onclick: (event) => jump(event) }, "Next open one"),
  );
}

function jump(event) {
  event.preventDefault();
  const next = document.querySelector('[data-focus^="confirm:"]');
  next?.scrollIntoView({ block: "center" });
  next?.focus({ preventScroll: true });
}

function preconditionsSummary(store, card, ui) {
  const codes = codesOf(store, card, false);
  const given = card.confirmed.filter((one) => codes.includes(one.code));
  const names = [...new Set(given.map((one) => one.by))].join(", ");
  const last = given.at(-1);
  return h(
    "section",
    { class: "sheet preconditions-summary", "aria-label": "Preconditions" },
    h(
      "p",
      {},
      h("span", { class: "strong" }, "Preconditions"),
      last
        ? ` · ${given.length} of ${codes.length} confirmed by ${names}, ${siteTime(last.at, store.zone)}`
        : ` · none of ${codes.length} confirmed`,
    ),
    h(
      "button",
      {
        type: "button",
        class: "button",
        "data-focus": "read-again",
        "aria-expanded": String(Boolean(ui.readAgain)),
        onclick: () => {
          ui.readAgain = !ui.readAgain;
          store.changed();
        },
      },
      ui.readAgain ? "Close the list" : "Read again",
    ),
  );
}

function bottomBar(store, card, ui, points) {
  const status = h("span", { class: "quiet", role: "status" });
  const main = h("button", { type: "button", class: "button button-main" });
  const show = () => {
    const point = points.active();
    const text = point && points.draftOf(point)?.text?.trim();
    status.textContent = keptWords(store);
    main.hidden = !point;
    main.textContent = text ? `Record ${point.label} ›` : `Next point ›`;
    main.onclick = () => {
      if (text) points.record(point);
      else focusPoint(points, point);
    };
  };
  ui.activeChanged = show;
  show();
  const sign = (symbol, words) =>
    h(
      "button",
      { type: "button", class: "button", onclick: () => points.toggleSign(symbol) },
      `${words} ${symbol}`,
    );
  return h(
    "div",
    { class: "bottom-bar" },
    points.takesNumbers() && h("div", { class: "actions" }, sign(">", "Over range"), sign("<", "Under range")),
    status,
    main,
  );
}

function focusPoint(points, point) {
  const order = points.card.points.filter((one) => points.editing(one));
  const field = document.querySelector(`[data-focus="reading-${point.id}"]`);
  const onIt = document.activeElement === field;
  const next = onIt ? order[(order.indexOf(point) + 1) % order.length] : point;
  const target = document.querySelector(
    `[data-focus="reading-${next.id}"], [data-focus^="outcome-${next.id}"]`,
  );
  points.activate(next);
  target?.scrollIntoView({ block: "center" });
  target?.focus({ preventScroll: true });
}

function keptWords(store) {
  if (store.keep.broken) return "This tablet cannot keep what is typed: its storage is full or closed.";
  if (!store.savedAt) return "";
  return `Typed values kept on this tablet ${siteTime(store.savedAt, store.zone).replace(" today", "")}`;
}
