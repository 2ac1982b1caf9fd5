"""The lines of safety: what is asked, of whom, where it holds, and when it lapses.

The files beside this one are the data; `models.criteria.safety.words` has the words
that they may use. A line is asked unless it is known that it does not apply.
"""

from models.criteria.safety.asked import (
    card_lists,
    crew_codes,
    isolation_codes,
    point_codes,
    return_codes,
)
from models.criteria.safety.book import (
    book_fields,
    book_lines,
    cautions,
    changes,
    governs,
    registers,
    rule_sets,
)
from models.criteria.safety.line import RuleSet, SafetyLine
from models.criteria.safety.loader import load_lines
from models.criteria.safety.work import PlannedCard, Work, WorkCell

__all__ = [
    "PlannedCard",
    "RuleSet",
    "SafetyLine",
    "Work",
    "WorkCell",
    "book_fields",
    "book_lines",
    "card_lists",
    "cautions",
    "changes",
    "crew_codes",
    "governs",
    "isolation_codes",
    "load_lines",
    "point_codes",
    "registers",
    "return_codes",
    "rule_sets",
]
