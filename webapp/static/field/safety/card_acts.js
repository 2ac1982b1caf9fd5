// What lines and readings on a card change.

import { cardLapses } from "./lapses.js";
import { speakerKey } from "./people.js";
import { groundsOf } from "./point_acts.js";
import { MINUTE, milliseconds } from "./times.js";

/** Take a line of a card's test. */
export function lineOfTest(state, act) {
  const card = act.of;
  const at = milliseconds(act.at);
  active(state, card, at);
  otherCardIsLeft(state, card, speakerKey(act), at);
  const cell = state.places.cell(card);
  if (cell !== null) state.worked.set(cell, at);
  if (act.state === "confirmed") suspend(state, act, card, at);
}

/** Note that somebody works on a card; what waits too long before lapses. */
function active(state, card, at) {
  const idle = idleSince(state, card, at);
  if (idle !== null) state.lines.lapse("test", card, "idle", idle);
  state.card(card).lastActivity = at;
}

/** When a card had been idle for too long; null where it was not. */
export function idleSince(state, card, at) {
  const { lastActivity } = state.card(card);
  if (lastActivity === null) return null;
  const over = lastActivity + Math.trunc(state.book.settings.idle_minutes * MINUTE);
  return at > over ? over : null;
}

/** Ask again the lines that this person gave on another card. */
function otherCardIsLeft(state, card, key, at) {
  const other = state.atWork.get(key) ?? card;
  state.atWork.set(key, card);
  if (other === card) return;
  for (const given of state.lines.of("test", other)) {
    if (given.byKey === key && given.code in state.book.lines) given.lapse("card_left", at);
  }
}

/** Suspend what the line suspends, where the card can end it again. */
function suspend(state, act, card, since) {
  const { code, until } = state.book.lines[act.code]?.suspends ?? {};
  const after = Object.values(state.lists(card).lists).flatMap((list) => list.after);
  if (!code || !until.some((one) => after.includes(one))) return;
  const cell = state.places.cell(card);
  let grounds = null;
  if (code === "G13e") {
    const named = act.noted?.grounds ?? [];
    grounds = named.length || cell === null ? named : groundsOf(state, cell);
  }
  state.suspensions = state.suspensions.filter((one) => one.card !== card || one.code !== code);
  state.suspensions.push({ code, card, cell, grounds, until, since });
}

/** Take a line of what is done after the readings; it makes the card safe. */
export function lineOfAfter(state, act) {
  const { of: card, code } = act;
  const at = milliseconds(act.at);
  active(state, card, at);
  const done = state.card(card);
  if (done.madeSafe === null && done.readings) {
    done.madeSafe = at;
    state.lines.lapse("test", card, "made_safe", at);
  }
  if (code === "G14a") state.lines.lapse("test", card, "grounds_back", at);
  state.suspensions = state.suspensions.filter((one) => one.card !== card || !one.until.includes(code));
}

/** Take a reading: what comes after the readings is asked again. */
export function reading(state, card, key, choice, at) {
  active(state, card, at);
  otherCardIsLeft(state, card, key, at);
  const done = state.card(card);
  done.readings += 1;
  done.lastReading = at;
  done.madeSafe = null;
  done.choice = choice || done.choice;
  done.lastDischarge = state.lines.find("after", card, "P03a")?.at ?? null;
}

/** Close a card: it is signed. */
export const signed = (state, card, at) => cardLapses(state, card, "signed", at);

/** Begin the discharge timer of a card. */
export function dcOff(state, act) {
  Object.assign(state.card(act.card), { dcOff: milliseconds(act.at), dcS: Number(act.dc_s) });
}
