"""Judge readings: the one path from what was typed to a verdict."""

from collections.abc import Mapping, Sequence

from models.judging.decide import decide
from models.judging.kinds import (
    contact_resistance,
    dielectric_withstand,
    insulation_resistance,
    relay_timing,
    vacuum_integrity,
)
from models.judging.procedures import Procedure
from models.judging.reading_check import Checked, check_reading
from models.judging.rules import Rule
from models.judging.sentences.judgement import judgement_in_words
from models.judging.verdicts import Judgement, Reading

PROCEDURES: Mapping[str, Procedure] = {
    kind.PROCEDURE.name: kind.PROCEDURE
    for kind in (
        insulation_resistance,
        contact_resistance,
        vacuum_integrity,
        relay_timing,
        dielectric_withstand,
    )
}


def judge(
    items: Sequence[tuple[Rule, Reading]], *, working: bool = True, notes: bool = True
) -> list[Judgement]:
    """Judge *items* as one group, in their order.

    Without *working* the verdicts and numbers are the same, and reason, sources and
    working are empty: for who wants to know only how a reading would be judged.
    Without *notes* what is said beside the verdict is left out, with its sources.

    Raises InputError when a text cannot be a reading of its procedure at all;
    everything else that is unknown leaves the reading unjudged with the reason.
    Decisions: docs/judging.md.
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


def judge_checked(
    items: Sequence[tuple[Rule, Reading, Checked]],
    *,
    working: bool = True,
    notes: bool = True,
) -> list[Judgement]:
    """Judge *items* as one group, each with what `check_reading` gave for it."""
    states = decide(items)
    if not working:
        return [state.judgement("", [], []) for state in states]
    return [judgement_in_words(state, notes=notes) for state in states]
