// What acts about a clearance change.

import { cellFalls, isolationChanges, settleCrew, settleIsolation } from "./lapses.js";
import { speaker, speakerKey } from "./people.js";
import { groundMoves } from "./point_acts.js";
import { Isolation, Item } from "./state.js";
import { milliseconds } from "./times.js";

/** Take a clearance. */
export function openIsolation(state, act) {
  const { isolation, lineup, section, clearance, at } = act;
  state.isolations.set(isolation, new Isolation(isolation, lineup, section ?? null, clearance, milliseconds(at)));
}

/** Take a line of a clearance; another holder is a change of it. */
export function lineOfIsolation(state, act, before) {
  const isolation = state.isolations.get(act.of);
  if (!isolation) return;
  const at = milliseconds(act.at);
  const by = speaker(act).name;
  const other = before !== null && before.byKey !== speakerKey(act);
  if (act.code === "G04a" && other) isolationChanges(state, isolation, "holder", at, by);
  else settleIsolation(state, isolation, at, by, "wider");
}

/** Write an item onto a register; a new source or ground changes the clearance. */
export function listItem(state, act) {
  const { register, of } = act;
  const at = milliseconds(act.at);
  const before = state.items(register, of).get(act.item);
  const item = new Item(act.item, act.fields, speaker(act).name, at, before?.back ?? null);
  state.write(register, of, item);
  const moved = before === undefined || before.gone !== item.gone;
  const isolation = state.isolations.get(of);
  if (isolation && ["source", "ground"].includes(register) && moved) {
    if (!isolation.stood) return;
    isolationChanges(state, isolation, register, at, item.by, item.item);
    groundMoves(state, item.item, at);
  } else if (state.crews.has(of)) {
    settleCrew(state, state.crews.get(of), at, item.by, register, { quiet: true });
  }
}

/** Write that an entry of the put-back list is back in its place. */
export function putBack(state, act) {
  const item = state.items("put_back", act.isolation).get(act.item);
  if (item) item.back = { by: speaker(act).name, at: milliseconds(act.at), torque: act.torque ?? null };
}

/** Begin to return a clearance or a part of it. */
export function openReturn(state, act) {
  const isolation = state.isolations.get(act.isolation);
  if (!isolation) return;
  isolation.returningSince = milliseconds(act.at);
  isolation.returningCells = act.cells ?? null;
}

/** Give a clearance back; after a part the rest has another boundary. */
export function handBack(state, act) {
  const isolation = state.isolations.get(act.isolation);
  if (!isolation || isolation.ended !== null) return;
  const at = milliseconds(act.at);
  const part = act.cells ?? null;
  for (const cell of part ?? state.covered(isolation)) cellFalls(state, cell, at, "handed_back");
  Object.assign(isolation, { returningSince: null, returningCells: null });
  if (part === null) {
    isolation.fall("handed_back", at);
    isolation.ended = at;
    return;
  }
  isolation.returned.push(...part.filter((cell) => !isolation.returned.includes(cell)));
  isolationChanges(state, isolation, "boundary", at, speaker(act).name);
}
