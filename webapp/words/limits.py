"""A limit in words."""

from collections.abc import Mapping
from typing import Any

from models.judging.wording import scale_for
from webapp.drawing.figures import number, short_amount, short_figure, unit_of

Doc = Mapping[str, Any]


def limit_words(judgement: Doc) -> str:
    """Return the limit: at least, at most, or from to; a dash for none.

    A withstand's limit is its level in kV, since no number was read.
    """
    unit = unit_of(judgement) or "kV"
    low, high = number(judgement, "limit_low"), number(judgement, "limit_high")
    if low is not None and high is not None:
        words, over = scale_for(high, unit)
        return f"{short_figure(low / over)} – {short_figure(high / over)}{words}"
    if low is not None:
        return f"≥ {short_amount(low, unit)}"
    return "–" if high is None else f"≤ {short_amount(high, unit)}"
