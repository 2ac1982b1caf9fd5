"""Judge the readings of a card, and add the verdicts that are new."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any, Protocol
from uuid import UUID

from models.judging import Reading as JudgedReading
from models.judging import Rule, accuracy_from, with_calibration_gate
from models.judging.gates import (
    IN_DATE,
    LAPSED,
    NOTHING_BEYOND,
    with_instrument_gate,
)
from models.procedures import judge
from models.schema import Judgement as JudgementRow
from models.schema import Reading
from models.services.field.instrument_limits import CONDITION
from models.services.keeping.rules import read_rule

# The part of a judgement that is stored.
STORED = ("verdict", "corrected", "limit_low", "limit_high", "uncertainty")


class Judgeable(Protocol):
    """What a judgement needs to know of a reading that is stored."""

    @property
    def id(self) -> UUID: ...  # noqa: D102
    @property
    def text(self) -> str: ...  # noqa: D102
    @property
    def unit(self) -> str | None: ...  # noqa: D102
    @property
    def conditions(self) -> Mapping[str, Any]: ...  # noqa: D102
    @property
    def accuracy(self) -> Mapping[str, Any]: ...  # noqa: D102
    @property
    def calibrated(self) -> bool: ...  # noqa: D102


def judge_group(
    *,
    readings: Iterable[Reading],
    log_seq: int,
    now: datetime,
    new_id: Callable[[], UUID],
) -> list[JudgementRow]:
    """Judge *readings* as one group; add a judgement where a verdict or number moved.

    Each is judged by its rule in force. Returns those that were added; *log_seq* is
    the number of the log entry that says so. A reading's own first judgement is
    always added. Earlier ones stay.
    """
    rows = list(readings)
    rules = [read_rule(row.rule_in_force) for row in rows]
    added = []
    for row, body in zip(rows, bodies(rows, rules), strict=True):
        before = row.judgement if row.judgements else None
        numbers = stored_part(body)
        if before and before.numbers == tuple(numbers.values()):
            continue
        judgement = JudgementRow(
            id=new_id(),
            reading_id=row.id,
            seq=len(row.judgements) + 1,
            at=now,
            log_seq=log_seq,
            **numbers,
            rule_digest=before.rule_digest if before else None,
            after_turnover=False,
        )
        row.judgements.append(judgement)
        added.append(judgement)
    return added


def numbers_of(row: JudgementRow) -> dict[str, Any]:
    """Return the part of a judgement that is stored, by name."""
    return {name: getattr(row, name) for name in STORED}


def stored_part(body: Mapping[str, Any]) -> dict[str, Any]:
    """Return the part of a judgement that is stored, its numbers as floats."""
    verdict, *rest = STORED
    numbers = {n: None if body[n] is None else float(body[n]) for n in rest}
    return {verdict: body[verdict], **numbers}


def bodies(rows: Sequence[Judgeable], rules: Sequence[Rule]) -> list[dict[str, Any]]:
    """Return the judgement of each of a group's readings by the rule beside it.

    What was recorded counts only where its instrument can have shown it, and was in
    calibration on the day.
    """
    items = [
        (with_calibration_gate(with_instrument_gate(rule)), _as_judged(row))
        for row, rule in zip(rows, rules, strict=True)
    ]
    return [judgement.as_json() for judgement in judge(items)]


def _as_judged(row: Judgeable) -> JudgedReading:
    return JudgedReading(
        key=str(row.id),
        text=row.text,
        unit=row.unit,
        accuracy=accuracy_from(row.accuracy),
        conditions={
            CONDITION: NOTHING_BEYOND,
            **row.conditions,
            "calibration": IN_DATE if row.calibrated else LAPSED,
        },
    )
