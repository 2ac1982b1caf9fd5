// The order in which acts count: by their time, then as they arrived.

/** Acts in order; what waits on a tablet comes after what has arrived. */
export function inOrder(acts) {
  const keyed = acts.map((act) => ({ act, at: Date.parse(act.at), arrived: arrivedAt(act) }));
  keyed.sort((a, b) => a.at - b.at || difference(a.arrived, b.arrived) || (a.act.id < b.act.id ? -1 : 1));
  return keyed.map(({ act }) => act);
}

const arrivedAt = (act) => (act.arrived_at ? Date.parse(act.arrived_at) : Infinity);

// Infinity less Infinity is no number.
const difference = (a, b) => (a === b ? 0 : a - b);
