"""Words that a condition or a nameplate may hold where it is chosen from a few."""

GEARS = ("metal_enclosed", "metal_clad", "gas_insulated")
INSULATIONS = ("solid", "oil")
CONDUCTORS = ("copper", "aluminium")
SUPPLIES = ("ac", "dc")
METHODS = ("ac", "dc", "magnetron")
