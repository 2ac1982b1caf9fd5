// What was done, so that it can be undone: drafts are never changed, only followed.

const MOST = 200; // steps kept

/** A history that begins with *draft*. */
export function beginHistory(draft) {
  return { past: [], now: draft, future: [], last: "" };
}

/**
 * The history after one more operation; *words* say what it did.
 *
 * *typing* names a field: the keys that are typed into it one after the other are one step.
 */
export function follow(history, draft, words, typing = "") {
  if (draft === history.now) return history;
  const grows = typing && history.last === typing;
  const past = grows ? history.past : [...history.past, { draft: history.now, words }].slice(-MOST);
  return { past, now: draft, future: [], last: typing };
}

/** The history before its last operation; `said` is what is undone. */
export function undo(history) {
  const before = history.past.at(-1);
  if (!before) return history;
  const undone = { draft: history.now, words: before.words };
  return {
    past: history.past.slice(0, -1),
    now: before.draft,
    future: [undone, ...history.future],
    last: "",
    said: before.words,
  };
}

/** The history with its last undone operation done again. */
export function redo(history) {
  const [next, ...rest] = history.future;
  if (!next) return history;
  const past = [...history.past, { draft: history.now, words: next.words }];
  return { past, now: next.draft, future: rest, last: "", said: next.words };
}
