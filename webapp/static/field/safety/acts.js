// Acts: who says them, when, and in which order they count.

/** The key of a person: the id, or the name in lower case where there is no account. */
export function personKey({ id, name }) {
  return id ?? `name:${name.toLowerCase()}`;
}

/** Who says it: somebody may speak on another's tablet. */
export const who = (act) => act.person ?? act.by;

/** The time of an act in milliseconds. */
export const timeOf = (act) => Date.parse(act.at);

/** Acts in the order in which they count. */
export function inOrder(acts) {
  const keyed = acts.map((act) => ({ act, at: timeOf(act), arrived: act.arrived_at ? Date.parse(act.arrived_at) : Infinity }));
  keyed.sort((a, b) => a.at - b.at || difference(a.arrived, b.arrived) || (a.act.id < b.act.id ? -1 : 1));
  return keyed.map(({ act }) => act);
}

// Infinity less Infinity is no number.
const difference = (a, b) => (a === b ? 0 : a - b);
