"""Which parts of a rule apply to which rows, and which rows its gates leave out."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import EVERYWHERE, NOWHERE, WORD_CODES, Mask, Numbers
from models.judging.batch.columns import Readings
from models.judging.batch.measured import Measured
from models.judging.near import RELATIVE

Part = Mapping[str, Any]
Values = Callable[[str], Measured]  # of a derived value or a condition, by its name


def at_least(a: Numbers | float, b: Numbers | float) -> Mask:
    """Return `near.at_least`; it may be any of them that is infinite or NaN.

    With one positive limit for all rows that is a single comparison: what is near it
    has its sign, and the greater of the two is known.
    """
    if np.ndim(b) == 0 and 0 < b < np.inf:
        return np.asarray(np.greater_equal(a, b * (1 - RELATIVE)))
    if np.ndim(a) == 0 and 0 < a < np.inf:
        return np.asarray(np.less_equal(b, a / (1 - RELATIVE)))
    tolerance = RELATIVE * np.maximum(np.abs(a), np.abs(b))
    below = np.subtract(b, a)
    return np.asarray(np.greater_equal(a, b) | (below <= tolerance) & (below < np.inf))


def applies(part: Part, columns: Readings) -> NDArray[Any]:
    """Return where *part*'s `when` fits the conditions."""
    fits: NDArray[Any] = EVERYWHERE
    for name, value in (part.get("when") or {}).items():
        fits = fits & _is_word(columns, name, value)
    return fits


def shut(part: Part, columns: Readings, values: Values) -> NDArray[Any]:
    """Return where a gate does not open; a reason that holds from the start never does.

    What is not known opens no gate.
    """
    found = ~_opens(part, columns, values)
    return found & applies(part, columns) if part.get("when") else found


def _opens(part: Part, columns: Readings, values: Values) -> NDArray[Any]:
    name = part.get("on")
    if name is None:
        return NOWHERE
    words = part.get("one_of")
    if words is not None:
        return _is_one_of(columns, name, words)
    column = columns.condition(name)
    if name in WORD_CODES or column.dtype.kind in "OU":  # words, of a file or given
        no_word = 0 if name in WORD_CODES else ""
        return np.asarray(column != no_word) & (not _has_limits(part))
    return _is_between(part, values(name))


def _has_limits(part: Part) -> bool:
    """Return whether a number is wanted: a word is none."""
    return any(part.get(limit) is not None for limit in ("at_least", "at_most"))


def _is_between(part: Part, of: Measured) -> NDArray[Any]:
    least, most = part.get("at_least"), part.get("at_most")
    if least is None and most is None:
        return ~np.isnan(of.shown)  # of an outcome nothing is, whatever its ends
    opens: NDArray[Any] = EVERYWHERE
    if least is not None:
        opens = at_least(of.low, least)
    if most is not None:
        opens = opens & at_least(most, of.high)
    return opens


def _is_one_of(columns: Readings, name: str, words: list[str]) -> NDArray[Any]:
    found: NDArray[Any] = NOWHERE
    for word in words:
        found = found | _is_word(columns, name, word)
    return found


def _is_word(columns: Readings, name: str, value: Any) -> NDArray[Any]:
    """Return where a condition is *value*; texts are the words themselves."""
    column, words = columns.condition(name), WORD_CODES.get(name)
    if words is not None:
        value = words.index(value) if value in words else -1
    elif isinstance(value, str) != (column.dtype.kind in "OU"):
        return NOWHERE
    return np.asarray(column == value)
