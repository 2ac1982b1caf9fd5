"""Which parts of a rule apply to which rows, and which rows its gates leave out."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import EVERYWHERE, NOWHERE, WORD_CODES, Mask, Numbers
from models.judging.batch.columns import Readings
from models.judging.near import RELATIVE
from models.judging.rules import Rule


def at_least(a: Numbers | float, b: Numbers | float) -> Mask:
    """Return `near.at_least`; it may be any of them that is infinite or NaN."""
    tolerance = RELATIVE * np.maximum(np.abs(a), np.abs(b))
    close = (np.abs(np.subtract(b, a)) <= tolerance) & np.less(b, np.inf)
    return np.asarray(np.greater_equal(a, b) | close)


def applies(part: Mapping[str, Any], columns: Readings) -> NDArray[Any]:
    """Return where *part*'s `when` fits the conditions."""
    fits: NDArray[Any] = EVERYWHERE
    for name, value in (part.get("when") or {}).items():
        column, words = columns.condition(name), WORD_CODES.get(name)
        if words is None:
            fits = fits & (column == value)
        elif value in words:
            fits = fits & (column == words.index(value))
        else:
            fits = NOWHERE
    return fits


def gated(rule: Rule, columns: Readings) -> NDArray[Any]:
    """Return where a reason holds from the start, or a gate does not open."""
    found: NDArray[Any] = NOWHERE
    for part in rule.unjudged:
        found = found | applies(part, columns)
    for gate in rule.gates:
        value = columns.condition(gate["on"])
        if gate.get("at_least") is not None:
            shut = ~at_least(value, gate["at_least"])
        else:
            shut = value == 0 if gate["on"] in WORD_CODES else np.isnan(value)
        found = found | (shut & applies(gate, columns))
    return found
