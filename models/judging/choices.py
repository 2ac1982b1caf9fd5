"""Words that a condition or a nameplate may hold where it is chosen from a few."""

SUPPLIES = ("ac", "dc")
METHODS = ("ac", "dc", "magnetron", "vlf")
