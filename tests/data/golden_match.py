"""When two readers gave the same answer.

Words, verdicts and everything else are compared exactly. Numbers may differ in their
last binary digits where a logarithm or a power went in, since these are not rounded
alike by every maths library.
"""

import math
from typing import Any

RELATIVE = 1e-12


def differences(got: Any, wanted: Any, place: str = "") -> list[str]:
    """Return each place where two JSON values are not the same, with both values."""
    if (
        isinstance(wanted, dict)
        and isinstance(got, dict)
        and wanted.keys() == got.keys()
    ):
        parts = [(f"{place}.{key}", got[key], wanted[key]) for key in wanted]
    elif isinstance(wanted, list) and isinstance(got, list) and len(wanted) == len(got):
        parts = [
            (f"{place}[{at}]", *pair)
            for at, pair in enumerate(zip(got, wanted, strict=True))
        ]
    elif _same(got, wanted):
        return []
    else:
        return [f"{place}: {got!r} instead of {wanted!r}"]
    return [line for where, a, b in parts for line in differences(a, b, where)]


def _same(got: Any, wanted: Any) -> bool:
    if _number(got) and _number(wanted):
        return math.isclose(got, wanted, rel_tol=RELATIVE)
    return bool(type(got) is type(wanted) and got == wanted)


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
