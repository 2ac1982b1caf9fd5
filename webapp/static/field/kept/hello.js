// The hello of a tablet to its server: who is signed in here, and the share of the key.

import { ACCEPT, json } from "../outbox.js";
import { tablet } from "./tablet.js";

const PATIENCE_MS = 4000; // no answer by then: there is no signal worth the name
const HELLO = "/field/tablets";
const SIGN_IN = "/account/sign-in";
const SIGN_OUT = "/account/sign-out";
const TOKEN = "/field/csrf.json";

/**
 * Say hello. Returns {state: "known", person, tablet, share (text or null), now}, or
 * {state, message} with state "sign-in", "revoked", "reader" (this person records
 * nothing), "no-signal" or "fault".
 */
export async function hello() {
  if (navigator.onLine === false) return { state: "no-signal", message: "There is no signal." };
  try {
    return { state: "known", ...(await post(HELLO, { tablet: tablet().id, label: tablet().label, program: program() })) };
  } catch (error) {
    if (error.status === 403) return { state: error.revoked ? "revoked" : "reader", message: error.message };
    return { state: error.state ?? "no-signal", message: error.state ? error.message : "There is no signal." };
  }
}

/** End the session of this browser; true once there is none. */
export async function endSession() {
  try {
    const headers = { "X-CSRFToken": await token() };
    await fetch(SIGN_OUT, { method: "POST", headers, redirect: "manual", signal: patience() });
    return true;
  } catch (error) {
    return error.state === "sign-in"; // there was none
  }
}

/**
 * Ask the server whether this is the person's password; the session begins anew with it.
 * Returns "right", "wrong", "wait" (too many tries) or "no-signal".
 */
export async function checkPassword(sign_in, password) {
  try {
    const headers = { "X-CSRFToken": await token() };
    const body = new URLSearchParams({ sign_in, password });
    const answer = await fetch(SIGN_IN, { method: "POST", headers, body, redirect: "manual", signal: patience() });
    if (answer.type === "opaqueredirect") return "right";
    return answer.status === 429 ? "wait" : "wrong";
  } catch {
    return "no-signal";
  }
}

const patience = () => AbortSignal.timeout(PATIENCE_MS);

async function token() {
  return (await json(await fetch(TOKEN, { headers: ACCEPT, signal: patience() }))).token;
}

async function post(address, body) {
  const headers = { ...ACCEPT, "Content-Type": "application/json", "X-CSRFToken": await token() };
  const answer = await fetch(address, { method: "POST", headers, body: JSON.stringify(body), signal: patience() });
  const revoked = answer.status === 403 && (await answer.clone().json().catch(() => null))?.state === "revoked";
  return json(answer).catch((error) => Promise.reject(Object.assign(error, { revoked })));
}

/** The version of the program that this page is of. */
function program() {
  return document.documentElement.dataset.program ?? "";
}
