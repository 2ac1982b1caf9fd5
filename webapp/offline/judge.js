/**
 * The rule reader of the tablet: the same answers as models/judging, without a server.
 *
 * tests/data/golden.json holds both readers to one answer, and every sentence to the
 * same words.
 */

export { CriteriaError, InputError } from "./judging/errors.js";
export { judge } from "./judging/judge.js";
export { convert, saidUnit, toBase, unitName } from "./judging/quantities.js";
export { checkReading } from "./judging/reading_check.js";
export { parseValue } from "./judging/values.js";
export { amount, figure, plain } from "./judging/wording.js";
