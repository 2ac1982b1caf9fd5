/**
 * Which citations of a rule took part, and how they are printed.
 */

import { CriteriaError } from "../judge.js";
import { has, say } from "./catalogue.js";

/** Throw CriteriaError for a source of a rule that stands on what is not known here. */
export function checkSources({ cite }) {
  const strange = cite.find(({ provenance }) => !has(`provenance.${provenance}`));
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
  if (code === "corrected" || code === "carried") return rule.correction.by === "none" ? [] : [rule.correction.cite];
  if (!bounds.includes(part)) return [];
  if (code === "tolerance") return [part.cite, band?.cite, part.tolerance_cite];
  return [part.cite, code === "expected_value" ? part.tolerance_cite : null];
}

/** A citation as the last lines of a working show it. */
export function citeWords({ document, edition, table, row, note, provenance }) {
  const printed = edition ? say("source.edition", { document, edition }) : document;
  const parts = {
    place: [printed, table, row].filter(Boolean).join(", "),
    provenance: say(`provenance.${provenance}`),
  };
  if (note) return say("source.noted", { ...parts, note });
  return say(parts.place.toLowerCase() === parts.provenance ? "source.bare" : "source", parts);
}
