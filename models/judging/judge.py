"""Judge readings: the one path from what was typed to a verdict."""

from collections.abc import Sequence

from models.judging.decide import decide
from models.judging.reading_check import Checked
from models.judging.rules import Rule
from models.judging.sentences.judgement import judgement_in_words
from models.judging.verdicts import Judgement, Reading


def judge_checked(
    items: Sequence[tuple[Rule, Reading, Checked]],
    *,
    working: bool = True,
    notes: bool = True,
) -> list[Judgement]:
    """Judge *items* as one group, in their order.

    Each comes with what `check_reading` gave for it. Without *working* the verdicts
    and numbers are the same, and reason, sources and working are empty: for who wants
    to know only how a reading would be judged. Without *notes* what is said beside the
    verdict is left out, with its sources. All that is unknown leaves the reading
    unjudged with the reason. Decisions: docs/judging.md.
    """
    states = decide(items)
    if not working:
        return [state.judgement("", [], []) for state in states]
    return [judgement_in_words(state, notes=notes) for state in states]
