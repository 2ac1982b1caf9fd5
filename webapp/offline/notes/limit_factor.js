/**
 * The accuracy limit factor of a P class at the burden that is there, as
 * models/judging/notes/limit_factor.py says it.
 */

import { say } from "../words/catalogue.js";
import { figure, plain } from "../words/numbers.js";

/** It, and what the fault asks for; nothing without a burden. */
export function limitFactorWords({ values }, { of, times, rct_ohm: rct, burden_ohm: rated, demand }) {
  const burden = values[of];
  if (!burden?.exact || !(rct + burden.corrected > 0)) return [];
  const factor = (times * (rct + rated)) / (rct + burden.corrected);
  const parts = { factor: figure(factor), times: plain(times), rct: figure(rct), rated: figure(rated), burden: figure(burden.corrected) };
  const said = [say("limit_factor", parts)];
  return demand === null ? said : [...said, say("limit_factor.demand", { demand: figure(demand) })];
}
