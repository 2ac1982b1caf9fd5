"""From what was typed to verdicts: texts are checked by their procedure first."""

from collections.abc import Sequence

from models.judging import Judgement, Reading, Rule, check_reading, judge_checked
from models.procedures.registry import PROCEDURES


def judge(
    items: Sequence[tuple[Rule, Reading]], *, working: bool = True, notes: bool = True
) -> list[Judgement]:
    """Judge *items* as one group, in their order, as `judge_checked` does.

    Raises InputError when a text cannot be a reading of its procedure at all.
    """
    return judge_checked(
        [
            (
                rule,
                reading,
                check_reading(PROCEDURES[rule.procedure], reading.text, reading.unit),
            )
            for rule, reading in items
        ],
        working=working,
        notes=notes,
    )
