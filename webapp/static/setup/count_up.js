// Count names, numbers and tags up: "Duty pump 1" -> "Duty pump 2", "52-3" -> "52-4".

/** The next text after *text*: its last number one higher, else its last single letter. */
export function countUp(text) {
  const number = /^(.*?)(\d+)(\D*)$/.exec(text);
  if (number && number[3].length < 3) {
    const next = String(BigInt(number[2]) + 1n).padStart(number[2].length, "0");
    return number[1] + next + number[3];
  }
  const letter = /^(.*[^A-Za-z]|)([A-Ya-y])$/.exec(text);
  if (letter) return letter[1] + String.fromCharCode(letter[2].charCodeAt(0) + 1);
  return `${text} 2`.trim();
}

/** The first text counted up from *text* that is not among *taken*. */
export function nextFree(text, taken) {
  let next = countUp(text);
  while (taken.has(next)) next = countUp(next);
  return next;
}

/**
 * A tag for a copy that stands in the cell *to* in the place of *from*.
 *
 * "breaker 52-3" of cell 3 is "breaker 52-7" in cell 7; a tag that does not end in the
 * cell's number is counted up until nobody has it.
 */
export function tagFor(label, from, to, taken) {
  const ends = from && label.endsWith(from) && !/[0-9A-Za-z]$/.test(label.slice(0, -from.length));
  const own = ends ? label.slice(0, -from.length) + to : label;
  return own !== label && !taken.has(own) ? own : nextFree(label, taken);
}
