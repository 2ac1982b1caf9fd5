// Two columns of a table, pasted: the rows of a kind, or why they cannot be read.

import { inSentence, parseValue } from "/offline/reader.js";

const NUMBER = /^[<>]?[+-]?\s*(?:\d|\.\d)/;
const DECIMAL_COMMA = /^[<>]?[+-]?\s*\d+,\d+(?:e[+-]?\d+)?$/i;
const EXAMPLE = "12.5, not 12,5";

/** Whether a text is a table, and no single value that goes into its field as it is. */
export function isTable(text) {
  return /[\n\r\t;]/u.test(text.trim());
}

/**
 * Return {rows, turned} of a pasted table: [step, value] as text, the steps rising;
 * *turned* where the list fell. Throws Error with what is wrong, the line, and what to do.
 */
export function pastedRows(text, kind) {
  const rows = dataLines(text).map((line) => rowOf(line, kind));
  if (!rows.length) throw new Error(`There is no number in what was pasted. ${wanted(kind)}`);
  if (rows.length > kind.most) {
    throw new Error(`${rows.length} lines were pasted, and a row takes ${kind.most}: thin them out and paste again.`);
  }
  const turned = rows.length > 1 && rows.at(-1).at < rows[0].at;
  if (turned) rows.reverse();
  orderFault(rows, kind);
  return { rows: rows.map(({ cells }) => cells), turned };
}

/** The lines with something in them, after those of the heading: {n, cells}. */
function dataLines(text) {
  const lines = text.split(/\r\n|\r|\n/u).map((line, index) => ({ n: index + 1, cells: cellsOf(line) }));
  const filled = lines.filter(({ cells }) => cells.some(Boolean));
  const first = filled.findIndex(({ cells }) => cells.some((cell) => NUMBER.test(cell)));
  return first < 0 ? [] : filled.slice(first);
}

/** A tab separates before a semicolon, a semicolon before a comma, and that before a space. */
function cellsOf(line) {
  const separator = ["\t", ";", ","].find((one) => line.includes(one)) ?? /\s+/u;
  const cells = (typeof separator === "string" ? line : line.trim()).split(separator).map((cell) => cell.trim());
  while (cells.length > 2 && !cells.at(-1)) cells.pop();
  return cells;
}

function rowOf({ n, cells }, kind) {
  const comma = cells.find((cell) => DECIMAL_COMMA.test(cell));
  // 10,5,0,004: four columns of which every other one is what stood behind a comma.
  if (comma || (cells.length === 4 && cells.every((cell) => NUMBER.test(cell)))) {
    const said = comma ?? cells.join(",");
    throw new Error(`Line ${n}, ${said}: a comma is not read as a decimal point. Write ${EXAMPLE}, and paste again.`);
  }
  if (cells.length !== 2) throw new Error(`Line ${n} has ${cells.length === 1 ? "1 column" : `${cells.length} columns`}. ${wanted(kind)}`);
  const unread = cells.find((cell) => !isNumber(cell));
  if (unread !== undefined) throw new Error(`Line ${n}: ${unread ? `“${unread}” is no number` : "a cell is empty"}. ${wanted(kind)}`);
  return { n, cells, at: parseValue(cells[0]).low };
}

function isNumber(text) {
  try {
    return !parseValue(text).outcome;
  } catch {
    return false;
  }
}

function orderFault(rows, kind) {
  const found = rows.findIndex(({ at }, index) => index > 0 && !(at > rows[index - 1].at));
  if (found < 0) return;
  const [before, after] = [rows[found - 1], rows[found]];
  const lines = `lines ${Math.min(before.n, after.n)} and ${Math.max(before.n, after.n)}`;
  const ends = `${before.cells[0]} and ${after.cells[0]} ${kind.step_unit}`;
  throw new Error(`The list neither rises nor falls throughout: ${ends} in ${lines}. Paste one way only.`);
}

function wanted({ step_label: step, step_unit: unit, label }) {
  return `Paste two columns: ${inSentence(step)} in ${unit}, then ${inSentence(label)}.`;
}
