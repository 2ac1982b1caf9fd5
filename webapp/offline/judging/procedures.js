/**
 * What a reading of each procedure may be: its title, units and outcomes.
 */

export const PROCEDURES = new Map(
  [
    {
      name: "insulation_resistance",
      title: "Insulation resistance",
      units: ["GOhm", "MOhm", "kOhm", "TOhm"],
      default_unit: "GOhm",
      outcomes: [],
    },
    {
      name: "contact_resistance",
      title: "Contact resistance",
      units: ["uOhm", "mOhm"],
      default_unit: "uOhm",
      outcomes: [],
    },
    {
      name: "vacuum_integrity",
      title: "Vacuum integrity",
      units: ["Pa", "mbar", "Torr"],
      default_unit: "Pa",
      outcomes: ["held", "broke_down"],
    },
    {
      name: "relay_timing",
      title: "Relay trip timing",
      units: ["s", "ms"],
      default_unit: "s",
      outcomes: ["no_trip"],
    },
    {
      name: "dielectric_withstand",
      title: "Dielectric withstand",
      units: [],
      default_unit: "",
      outcomes: ["held", "broke_down"],
    },
  ].map((procedure) => [procedure.name, procedure]),
);
