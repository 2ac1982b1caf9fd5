"""The tolerance of an operating time: two parts, each with its own source."""

from collections.abc import Mapping
from typing import Any

from models.judging.tables import MAKER, Criteria
from models.procedures import precedence
from models.procedures.given import STANDINGS
from models.procedures.precedence import Claim, decides
from models.procedures.procedure import Givable
from models.procedures.subject import Subject

PCT = Givable(
    name="relay_tolerance_pct",
    title="Tolerance of the operating time, part of the expected time",
    side="greatest",
    units=("%",),
    may_be_zero=True,
)
S = Givable(
    name="relay_tolerance_s",
    title="Tolerance of the operating time, fixed part",
    side="greatest",
    units=("s", "ms"),
    may_be_zero=True,
)
DECLARED = {**MAKER, "document": "Tolerance declared for this relay"}


def parts(
    subject: Subject,
    criteria: Criteria,
    quantities: tuple[Givable, Givable] = (PCT, S),
) -> tuple[float, float, dict[str, Any]]:
    """Return percent of the expected time, seconds, and where both come from.

    *quantities* are the two that somebody may have given.

    The citation is that of the part which goes first; its note says where the
    other part comes from, if from elsewhere.
    """
    table = criteria.table("relay_tolerance")
    row = table.rows[0]
    pct, s = (
        _part(subject, quantity, declared, row[column], table.cite(row))
        for quantity, declared, column in (
            (quantities[0], subject.number("tolerance_pct"), "tolerance_pct"),
            (quantities[1], subject.number("tolerance_s"), "tolerance_s"),
        )
    )
    return pct.value, s.value, _cite(*sorted((pct, s), key=_rank))


def _part(
    subject: Subject,
    quantity: Givable,
    declared: float | None,
    default: float,
    cite: Mapping[str, Any],
) -> Claim:
    plate = precedence.on_nameplate(quantity, declared)
    found = decides(
        [
            *precedence.given(subject, quantity),
            plate and Claim(value=plate.value, cite=DECLARED, said=plate.said),
            precedence.tabled(quantity, default, cite, "the usual"),
        ]
    )
    assert found is not None
    return found


def _rank(part: Claim) -> int:
    known = [*STANDINGS, part.cite["provenance"]]
    return known.index(part.cite["provenance"])


def _cite(first: Claim, other: Claim) -> dict[str, Any]:
    notes = [first.cite["note"]]
    if first.cite["document"] != other.cite["document"]:
        notes.append(f"beside {other.said}")
    elif first.cite["note"] != other.cite["note"]:
        notes.append(other.cite["note"])
    return {**first.cite, "note": ", ".join(filter(None, notes))}
