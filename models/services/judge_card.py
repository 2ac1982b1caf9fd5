"""Judge the readings of a card, and add the verdicts that are new."""

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.judging import Accuracy, Judgement, Rule, judge
from models.judging import Reading as JudgedReading
from models.schema import Judgement as JudgementRow
from models.schema import Reading

OUT_OF_CALIBRATION = (
    "The instrument was not in calibration on the day: the reading is kept, "
    "and counts only once it is repeated with an instrument that is."
)


def judge_group(
    session: Session,
    *,
    readings: Iterable[Reading],
    cause: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> list[JudgementRow]:
    """Judge *readings* as one group; add a judgement where the verdict moved.

    Returns those that were added. A reading's own first judgement is always
    added. Earlier ones stay.
    """
    rows = list(readings)
    added = []
    for row, body in zip(rows, _bodies(rows), strict=True):
        if row.judgements and row.judgements[-1].body == body:
            continue
        judgement = JudgementRow(
            id=new_id(),
            seq=len(row.judgements) + 1,
            at=now,
            cause=cause,
            verdict=body["verdict"],
            corrected=body["corrected"],
            body=body,
        )
        row.judgements.append(judgement)
        added.append(judgement)
    session.flush()
    return added


def verdicts_of(readings: Sequence[Reading]) -> list[str]:
    """Return the verdict on each of a group's readings, worked out again."""
    return [str(body["verdict"]) for body in _bodies(readings)]


def _bodies(rows: Sequence[Reading]) -> list[dict[str, Any]]:
    items = [(Rule.from_json(row.rule), _as_judged(row)) for row in rows]
    return [_body(r, j) for r, j in zip(rows, judge(items), strict=True)]


def _as_judged(row: Reading) -> JudgedReading:
    return JudgedReading(
        key=str(row.id),
        text=row.text,
        unit=row.unit,
        accuracy=Accuracy(**row.accuracy) if row.accuracy else None,
        conditions=row.conditions,
    )


def _body(row: Reading, judgement: Judgement) -> dict[str, Any]:
    body = judgement.as_json()
    if row.calibration_id is None:
        body["working"] = [*body["working"], OUT_OF_CALIBRATION]
        if body["verdict"] in ("within", "marginal"):
            body["verdict"] = "unjudged"
            body["reason"] = OUT_OF_CALIBRATION
        elif body["verdict"] == "unjudged":
            body["reason"] = f"{body['reason']} {OUT_OF_CALIBRATION}"
    return body
