/**
 * Which citations of a rule took part, and how they are printed.
 */

import { CriteriaError } from "../judge.js";

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

/** Throw CriteriaError for a source of a rule that stands on what is not known here. */
export function checkSources({ cite }) {
  const strange = cite.find(({ provenance }) => !Object.hasOwn(PROVENANCE_WORDS, provenance));
  if (strange) throw new CriteriaError(`a rule says '${strange.provenance}' of a source`);
}

/** The rule's citations that took part, in the order in which they did. */
export function citesOf(state, notes) {
  const cited = [
    ...state.steps.flatMap((step) => citedBy(state, step)),
    ...notes.flatMap(({ note }) => note.cite ?? []),
  ];
  return [...new Set(cited)].filter(Number.isInteger).map((index) => state.rule.cite[index]);
}

function citedBy({ rule, bounds }, { code, part, band }) {
  if (code === "broke_down") return bounds.map((bound) => bound.cite);
  if (code === "corrected") return rule.correction.by === "none" ? [] : [rule.correction.cite];
  if (!bounds.includes(part)) return [];
  return code === "tolerance" ? [part.cite, band.cite, part.tolerance_cite] : [part.cite];
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
