// How a field page opens: who it is, then what this tablet holds of the round.

import { Clock } from "./clock.js";
import { noticeCleared } from "./kept/cleared.js";
import { hello } from "./kept/hello.js";
import { Keep } from "./kept/keep.js";
import { moveFromBefore } from "./kept/moved.js";
import { askOpenKey, forgetOpen, greeted, opening, whenForgotten } from "./kept/people.js";
import { readRound } from "./kept/rounds.js";
import { openSettings } from "./kept/settings.js";
import { keepBeside } from "./kept/tablet.js";
import { unlocked } from "./kept/unlock_view.js";
import { waitingElsewhere } from "./kept/waiting.js";
import { fetchRound, holdDocument, Store } from "./store.js";

const SIGN_IN = "/account/sign-in";

/**
 * Return the person of this page {id, name, sign_in, role, key}, asked for in *root* where
 * neither the worker's memory nor the server opens the key. With signal and no session the
 * page goes to the sign-in and the promise stays open. Null for who only reads.
 */
export async function openField(root) {
  const asked = askOpenKey(); // while the database opens
  await openSettings();
  keepBeside();
  await moveFromBefore();
  whenForgotten(() => location.reload());
  const found = await opening(asked);
  if (found.person) return found.person;
  if (found.state === "reader") return null; // reads what the server shows, and nothing is held
  if (found.state === "sign-in") return goTo(`${SIGN_IN}?next=${encodeURIComponent(location.pathname + location.hash)}`);
  return unlocked(root, found);
}

function goTo(address) {
  location.replace(address);
  return new Promise(() => {});
}

/**
 * Open a round: the document held here at once, and a newer one behind it; else the
 * server's. Throws where it is not held and cannot be fetched.
 */
export async function openStore(person, roundId, urls, drawn) {
  const clock = new Clock();
  person ??= { ...(await fetchRound(urls, clock)).person, key: null };
  const [keep, held] = await Promise.all([Keep.open(person, roundId), readRound(person, roundId)]);
  const document = held?.document ?? (await fetchedFirst(person, keep, urls, clock));
  const store = new Store({ person, document, held: held ?? {}, keep, urls, clock, drawn });
  keep.watch(() => store.changed({ quietly: true }));
  lookAround(store);
  if (held) lookBehind(store);
  return store;
}

/** What else this tablet holds, and what it should hold: said a moment after the round is drawn. */
async function lookAround(store) {
  store.elsewhere = await waitingElsewhere(store.person, store.doc.round.id);
  store.cleared = await noticeCleared();
  if (store.elsewhere || store.cleared.length) store.changed({ quietly: true });
}

async function fetchedFirst(person, keep, urls, clock) {
  const old = keep.all("card:");
  const document = await fetchRound(urls, clock);
  if (document.person.id !== person.id) throw Object.assign(new Error("Sign in again: somebody else is signed in."), { state: "sign-in" });
  holdDocument(person, document, keep, old);
  return document;
}

/** What the server has to say meanwhile: newer cards, and whether this tablet may go on. */
async function lookBehind(store) {
  store.refresh();
  const answer = await hello();
  await greeted(answer);
  if (answer.state === "revoked") await forgetOpen().then(() => location.reload());
}
