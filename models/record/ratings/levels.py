"""Rated maximum voltage, power frequency and impulse: one row of a published table."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from models.judging.tables import Row, Table
from models.record.ratings.compared import Compared, cite_figures
from models.record.ratings.remark import AS_PUBLISHED, LOOK_AGAIN, Remark, kv
from models.words import say

OF_GEAR = {
    "metal_clad": ("rated_metal_clad", "rated_iec"),
    "metal_enclosed": ("rated_enclosed", "rated_iec"),
    "gas_insulated": ("rated_gas_insulated", "rated_iec"),
}
ALL = (
    "rated_metal_clad",
    "rated_enclosed",
    "rated_gas_insulated",
    "rated_iec",
    "rated_outdoor_breaker",
    "rated_station",
)
COLUMNS = {
    "rated_withstand_kv": ("withstand_kv", "withstand_high_kv"),
    "rated_impulse_kv": ("impulse_kv", "impulse_high_kv"),
}
PLACE = "ratings.rated_impulse_kv"


class _Row(NamedTuple):
    """A row, its table, and those of its columns that say what the plate says."""

    table: Table
    row: Row
    columns: Sequence[str]

    @property
    def cite(self) -> str:
        own = "rated_kv" if "rated_kv_provenance" in self.row else ""
        return cite_figures(self.table, self.row, own, *self.columns)


def level_remarks(about: Compared) -> Iterator[Remark]:
    """Yield whether the lineup's insulation levels are a row for its gear."""
    rated_kv = about.rating("rated_kv")
    given = {n: v for n in COLUMNS if (v := about.rating(n)) is not None}
    if rated_kv is None:
        return
    own = OF_GEAR.get(about.draft.gear, ALL)
    parts = {"rated": kv(rated_kv), "levels": _said(given)}
    beside = _rows(about, own, rated_kv)
    if found := _matching(beside, given):
        key = "rating.level.row" if given else "rating.level.voltage"
        yield _remark(AS_PUBLISHED, key, found[0].cite, **parts)
    elif found := _matching(_rows(about, ALL, rated_kv), given):
        parts["other"] = found[0].table.document
        yield _remark(LOOK_AGAIN, "rating.level.other_row", found[0].cite, **parts)
    elif beside:
        parts["known"] = "; ".join(_printed(one.row) for one in beside)
        yield _remark(LOOK_AGAIN, "rating.level.no_row", beside[0].cite, **parts)
    else:
        yield _no_voltage(about, own[0], rated_kv)


def _no_voltage(about: Compared, key: str, rated_kv: float) -> Remark:
    table = about.table(key)
    near = min(table.rows, key=lambda row: abs(row["rated_kv"] - rated_kv))
    return _remark(
        LOOK_AGAIN,
        "rating.level.no_voltage",
        _Row(table, near, ()).cite,
        place="ratings.rated_kv",
        rated=kv(rated_kv),
        near=kv(near["rated_kv"]),
    )


def _rows(about: Compared, keys: Sequence[str], rated_kv: float) -> list[_Row]:
    return [
        _Row(table, row, ())
        for table in map(about.table, keys)
        for row in table.rows
        if row["rated_kv"] == rated_kv
    ]


def _matching(rows: Sequence[_Row], given: dict[str, float]) -> list[_Row]:
    """Return the rows that have every level that is given."""
    found = []
    for table, row, _ in rows:
        columns = [
            next((c for c in COLUMNS[name] if row.get(c) == value), "")
            for name, value in given.items()
        ]
        if all(columns):
            found.append(_Row(table, row, columns))
    return found


def _said(given: dict[str, float]) -> str:
    both = [say(f"rating.{name}", value=kv(v)) for name, v in given.items()]
    return say("list.and", first=both[0], second=both[1]) if both[1:] else "".join(both)


def _printed(row: Row) -> str:
    """Return the levels of a row: 36 kV and 95 kV."""
    said = []
    for columns in COLUMNS.values():
        values = [kv(row[column]) for column in columns if column in row]
        said.append(
            say("list.or", first=values[0], second=values[1])
            if values[1:]
            else values[0]
        )
    return say("list.and", first=said[0], second=said[1])


def _remark(
    level: str, sentence: str, cite: str, place: str = PLACE, **parts: str
) -> Remark:
    return Remark(level=level, place=place, text=say(sentence, **parts), cite=cite)
