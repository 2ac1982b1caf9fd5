/**
 * A rule: a criterion compiled for one point, as data that three readers share.
 */

import { CriteriaError } from "./errors.js";

const VERSION = 1;
const CORRECTIONS = ["none", "factor", "metal"];
const BOUNDS = ["low", "high", "high_of_lowest", "withstand", "operating_time"];
const DECISIONS = ["simple", "guarded"];

const PROVENANCE_WORDS = {
  published: "read in a published copy",
  confirmed: "confirmed against a licensed copy",
  corrected: "corrected from a licensed copy",
  memory: "from memory, not yet confirmed",
  computed: "worked out from other figures",
  practice: "common practice",
  maker: "maker's data",
  project: "project specification",
};

/** Throw CriteriaError for a version or a word that this reader does not know. */
export function checkRule(rule) {
  if (rule.v !== VERSION) {
    throw new CriteriaError(
      `this rule is of version ${rule.v}; this program reads version ${VERSION}`,
    );
  }
  const provenances = Object.keys(PROVENANCE_WORDS);
  known(rule.correction.by, CORRECTIONS);
  known(rule.decision, DECISIONS);
  for (const bound of rule.bounds) known(bound.kind, BOUNDS);
  for (const source of rule.cite) known(source.provenance, provenances);
}

function known(word, words) {
  if (words.includes(word)) return;
  const listed = words.map((one) => `'${one}'`).join(", ");
  throw new CriteriaError(`a rule says '${word}', which is none of (${listed})`);
}

/** Whether a part's `when` fits the conditions; no `when` always does. */
export function applies({ when }, conditions) {
  return Object.entries(when ?? {}).every(
    ([name, value]) => (conditions[name] ?? null) === value,
  );
}

/** A citation as the last lines of a working show it. */
export function citeWords({ document, edition, table, row, note, provenance }) {
  const place = [document, table, row].filter(Boolean).join(", ");
  const printed = edition
    ? place.replace(document, () => `${document} (${edition})`)
    : place;
  const remark = note ? `, ${note}` : "";
  return `Source: ${printed}${remark}; ${PROVENANCE_WORDS[provenance]}.`;
}
