"""What the withstand procedures share: a level, how long, and how far above it."""

from collections.abc import Mapping
from typing import Any

from models.judging.near import near
from models.judging.tables import Criteria, Table
from models.procedures import precedence
from models.procedures.precedence import Claim
from models.procedures.procedure import Givable
from models.procedures.subject import Subject

OVER_PCT = 5.0  # above the level by more than this the gear was stressed beyond it
HOLD_S = 60.0  # seconds; one minute in every table that is cited


# A dc voltage stresses the gear as the peak of an ac one does: the square root of two,
# as field practice rounds it (common practice).
DC_OVER_AC = 1.414


def rated(subject: Subject) -> dict[str, float]:
    """Return the rated withstand of the nameplate in kV, ac and as dc."""
    rated_kv = subject.number("rated_withstand_kv")
    return {} if rated_kv is None else {"ac": rated_kv, "dc": DC_OVER_AC * rated_kv}


def bound(
    level_kv: float, when: Mapping[str, str], cite: int, rated_kv: float | None = None
) -> dict[str, Any]:
    """Return the bound: held for a minute at the level, not far above it.

    Above *rated_kv*, where the nameplate says it, the gear was stressed beyond its
    rating.
    """
    beyond = {} if rated_kv is None else {"rated_kv": rated_kv}
    return {
        **beyond,
        "kind": "withstand",
        "level_kv": level_kv,
        "hold_s": HOLD_S,
        "over_pct": OVER_PCT,
        "when": dict(when),
        "cite": cite,
    }


def bounds_and_reasons(
    on: str,
    levels: Mapping[str, Claim | None],
    absent: Mapping[str, str],
    rated: Mapping[str, float] | None = None,
) -> tuple[list[dict[str, Any]], list[dict[str, Any]], list[dict[str, Any]]]:
    """Return bounds, unjudged reasons and cites for each value of condition *on*.

    *rated*: the rated withstand in kV, where a voltage above it is to be outside.
    """
    bounds: list[dict[str, Any]] = []
    unjudged: list[dict[str, Any]] = []
    cites: list[dict[str, Any]] = []
    for word, level in levels.items():
        if level is None:
            unjudged.append({"when": {on: word}, "reason": absent[word]})
            continue
        beyond = (rated or {}).get(word)
        bounds.append(bound(level.value, {on: word}, len(cites), beyond))
        cites.append(dict(level.cite))
    return bounds, unjudged, cites


def level(subject: Subject, on: str, field: str, word: str) -> float | None:
    """Return the maker's level in kV: the row's limit, else that of the nameplate.

    A row's limit is a level where its condition *on* is *word*; *field* is the
    nameplate's, with a place for the word.
    """
    limit = subject.number("limit") if subject.word(on) == word else None
    return subject.number(field.format(word)) if limit is None else limit


def given(subject: Subject, quantity: Givable, level_kv: float | None) -> list[Claim]:
    """Return the levels given for this gear, that on the nameplate last."""
    plate = precedence.on_nameplate(quantity, level_kv)
    return [*precedence.given(subject, quantity), *([plate] if plate else [])]


def of_nameplate(
    subject: Subject, criteria: Criteria, quantity: Givable
) -> Claim | None:
    """Return the field fraction of the rated withstand on the nameplate."""
    rated_kv = subject.number("rated_withstand_kv")
    if rated_kv is None:
        return None
    table = criteria.table("withstand_field_fraction")
    row = table.rows[0]
    note = (
        f"{row['fraction']:g} of the rated power-frequency withstand on the nameplate"
    )
    level_kv = row["fraction"] * rated_kv
    return precedence.tabled(quantity, level_kv, table.cite(row, note), f"{note},")


def of_rating(
    table: Table,
    rated_kv: float | None,
    column: str,
    quantity: Givable,
    note: str | None = None,
) -> Claim | None:
    """Return the table's value for exactly this rating; None where it has none.

    *note* goes into the citation in the place of the row's own.
    """
    if rated_kv is None:
        return None
    row = table.find(lambda r: near(r["rated_kv"], rated_kv))
    if row is None or column not in row:
        return None
    return precedence.tabled(quantity, row[column], table.cite(row, note))
