// What goes to the server and what it answers.

const UNREACHED = "The server could not be reached. What you entered is kept on this device.";
const SIGNED_OUT =
  "You are no longer signed in. What you entered is kept on this device: sign in, and come back to this page.";

/** Post JSON; return {status, ...answer}, status 0 where nobody answered. */
export async function send(address, token, body) {
  try {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", Accept: "application/json", "X-CSRFToken": token },
      body: JSON.stringify(body),
    });
    return { status: answer.status, ...(await answer.json()) };
  } catch {
    return { status: 0, faults: [{ field: "", message: UNREACHED }] };
  }
}

/** The one sentence about an answer that is neither taken nor has faults by place. */
export function sentenceOf({ status, faults = [] }) {
  if (status === 401) return SIGNED_OUT;
  return faults.map((one) => one.message).join(" ") || `The server answered ${status}.`;
}
