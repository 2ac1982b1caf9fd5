"""A step to a verdict, as data; sentences are made of it elsewhere."""

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from models.judging.verdicts import Verdict

NO_NUMBERS: Mapping[str, Any] = {}


class Step(NamedTuple):
    """What was found at one step. webapp/offline/judge.js has the same codes and names.

    *verdict* None: the step is only part of the working. *part* is the gate, bound or
    derived word of the rule at hand, None where there is none. *low* and *high* are
    limits, None where there is none. Codes and *numbers*: docs/judging.md, section 15.
    """

    verdict: Verdict | None
    code: str
    part: Mapping[str, Any] | None = None
    low: float | None = None
    high: float | None = None
    numbers: Mapping[str, Any] = NO_NUMBERS

    def as_json(self) -> dict[str, Any]:
        """Return the step as plain values; null where a number is not finite."""
        return {
            "verdict": self.verdict,
            "code": self.code,
            "part": self.part,
            "low": self.low,
            "high": self.high,
            **{name: _finite(value) for name, value in self.numbers.items()},
        }


def _finite(value: Any) -> Any:
    return None if isinstance(value, float) and not math.isfinite(value) else value
