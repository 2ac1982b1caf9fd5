/**
 * What a procedure is called.
 */

export const TITLES = new Map([
  ["insulation_resistance", "Insulation resistance"],
  ["contact_resistance", "Contact resistance"],
  ["vacuum_integrity", "Vacuum integrity"],
  ["relay_timing", "Relay trip timing"],
  ["dielectric_withstand", "Dielectric withstand"],
]);
