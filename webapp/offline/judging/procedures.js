/**
 * What a reading of each procedure may be: its title, units and outcomes.
 */

export const PROCEDURES = new Map(
  [
    {
      name: "insulation_resistance",
      title: "Insulation resistance",
      units: ["GOhm", "MOhm", "kOhm", "TOhm"],
      outcomes: [],
    },
    {
      name: "contact_resistance",
      title: "Contact resistance",
      units: ["uOhm", "mOhm"],
      outcomes: [],
    },
    {
      name: "vacuum_integrity",
      title: "Vacuum integrity",
      units: ["Pa", "mbar", "Torr"],
      outcomes: ["held", "broke_down"],
    },
    {
      name: "relay_timing",
      title: "Relay trip timing",
      units: ["s", "ms"],
      outcomes: ["no_trip"],
    },
    {
      name: "dielectric_withstand",
      title: "Dielectric withstand",
      units: [],
      outcomes: ["held", "broke_down"],
    },
  ].map((procedure) => [procedure.name, procedure]),
);
