"""Continuous and short-time currents beside the lists of preferred ones."""

from collections.abc import Iterator, Mapping, Sequence

from models.judging.tables import Row, Table
from models.judging.wording import plain
from models.record.ratings.compared import SWITCHING, Compared, cite_list
from models.record.ratings.remark import (
    AS_PUBLISHED,
    Finding,
    Remark,
    together,
)
from models.words import say

# Which lists of continuous currents hold for a gear.
LISTS = {
    "metal_clad": ("metal-clad", "IEC"),
    "metal_enclosed": ("interrupter", "IEC"),
    "gas_insulated": ("metal-clad", "interrupter", "IEC"),
}
Given = Sequence[tuple[str, str, float]]  # place, whose, value


def preferred_remarks(about: Compared) -> Iterator[Remark]:
    """Yield which currents and durations are preferred ones, and which are not."""
    lists = LISTS.get(about.draft.gear, ())
    continuous = about.table("preferred_continuous")
    durations = about.table("preferred_duration")
    yield from _beside(
        continuous,
        [row for row in continuous.rows if row["of"] in lists],
        _given(about, "rated_a"),
        "A",
    )
    short = about.table("preferred_short_time")
    yield from _beside(short, short.rows, _given(about, "rated_ka"), "kA")
    yield from _beside(
        durations,
        [row for row in durations.rows if row["of"] == "short circuit"],
        _given(about, "rated_s"),
        "s",
    )


COLUMN = {"A": "rated_a", "kA": "rated_ka", "s": "rated_s"}


def _given(about: Compared, name: str) -> Given:
    """Return what the lineup, its sections and its switching apparatus say."""
    value = about.rating(name)
    given = [] if value is None else [(f"ratings.{name}", say("rating.lineup"), value)]
    if name == "rated_a":
        given += [
            (f"sections.{at}.rated_a", one.name, one.rated_a)
            for at, one in enumerate(about.draft.sections)
            if one.rated_a is not None
        ]
    return given + [
        (f"{one.place}.plate.{name}", one.one.label, value)
        for one in about.of_kind(*SWITCHING)
        if (value := one.value(name)) is not None
    ]


def _beside(
    table: Table, rows: Sequence[Row], given: Given, unit: str
) -> Iterator[Remark]:
    column = COLUMN[unit]
    printed: Mapping[float, Row] = {row[column]: row for row in reversed(rows)}
    known = sorted({value for *_, value in given if value in printed})
    if known:
        text = say(f"rating.preferred.{column}", values=_row(known, unit))
        place = next(p for p, _, value in given if value in printed)
        cite = cite_list(table, [printed[value] for value in known], column)
        yield Remark(level=AS_PUBLISHED, place=place, text=text, cite=cite)
    yield from together(
        [
            Finding(place, who, f"rating.not_preferred.{column}", parts, cite)
            for place, who, value in given
            if value not in printed
            for parts, cite in [_near(table, printed, value, unit)]
        ]
    )


def _near(
    table: Table, printed: Mapping[float, Row], value: float, unit: str
) -> tuple[dict[str, str], str]:
    """Return the value with its neighbours in the list, and the list's source."""
    below = [max(low)] if (low := [one for one in printed if one < value]) else []
    above = [min(up)] if (up := [one for one in printed if one > value]) else []
    near = _row(below + above, unit)
    parts = {"value": f"{plain(value)} {unit}", "near": near}
    return parts, cite_list(table, list(printed.values()), COLUMN[unit])


def _row(values: Sequence[float], unit: str) -> str:
    """Return numbers in a row: 600 A, 1200 A and 2000 A."""
    said = [f"{plain(value)} {unit}" for value in values]
    if not said[1:]:
        return "".join(said)
    return say("list.and", first=", ".join(said[:-1]), second=said[-1])
