"""The column-wise reader of a rule: many readings of one rule at once.

Verdicts and numbers are those of `judge`, worked out in the same order; the words of
a judgement are not made here: `judge` gives them for the rows that are asked for.
Numpy is known to this package of the core alone.
"""

from models.judging.batch.check import check_columns
from models.judging.batch.codes import (
    ANOTHER,
    MARGINAL,
    OUTCOME_CODES,
    OUTSIDE,
    UNIT_CODES,
    UNJUDGED,
    VERDICT_CODES,
    WITHIN,
    WORD_CODES,
    Codes,
    Found,
    Mask,
    Numbers,
)
from models.judging.batch.columns import Judged, Readings
from models.judging.batch.group import Contenders, Lowest, lowest_of
from models.judging.batch.prepare import contenders
from models.judging.batch.ranges import stated_at
from models.judging.batch.reader import judge_columns
from models.judging.batch.relay import assigned_bands

__all__ = [
    "ANOTHER",
    "MARGINAL",
    "OUTCOME_CODES",
    "OUTSIDE",
    "UNIT_CODES",
    "UNJUDGED",
    "VERDICT_CODES",
    "WITHIN",
    "WORD_CODES",
    "Codes",
    "Contenders",
    "Found",
    "Judged",
    "Lowest",
    "Mask",
    "Numbers",
    "Readings",
    "assigned_bands",
    "check_columns",
    "contenders",
    "judge_columns",
    "lowest_of",
    "stated_at",
]
