"""Numbers out of a judgement's JSON, where measured values may be text."""

import math
from collections.abc import Mapping
from typing import Any


def number(values: Mapping[str, Any], name: str) -> float | None:
    """Return the finite number under *name*, or None.

    A frozen document keeps numbers as text, since canonical JSON would lose
    the digits shown.
    """
    value = values.get(name)
    if value is None or value == "":
        return None
    found = float(value)
    return found if math.isfinite(found) else None
