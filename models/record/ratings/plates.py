"""A nameplate beside itself: a least below its greatest, gas in its order."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.fields import FIELDS, field
from models.judging.wording import plain
from models.record.ratings.compared import Compared, number
from models.record.ratings.remark import Finding, practice
from models.words import say

LEAST, GREATEST = "_min", "_max"
# What is first is not above what is second.
ORDERED = (
    *(
        (name, name.removesuffix(LEAST) + GREATEST)
        for name in FIELDS
        if name.endswith(LEAST) and name.removesuffix(LEAST) + GREATEST in FIELDS
    ),
    ("speed_zone_from_mm", "speed_zone_to_mm"),
    ("gas_lockout_kpa", "gas_alarm_kpa"),
    ("gas_alarm_kpa", "gas_fill_kpa"),
    ("gas_lockout_kpa", "gas_fill_kpa"),
    ("level_ac_kv", "rated_withstand_kv"),
    ("rated_withstand_kv", "rated_impulse_kv"),
    ("rated_kv", "rated_withstand_kv"),
)
_NAMES = frozenset(name for pair in ORDERED for name in pair)


def order_findings(about: Compared) -> Iterator[Finding]:
    """Yield fields of a plate of which the lesser is above the greater."""
    lineup = about.draft.ratings
    yield from _of("ratings", say("rating.lineup"), lineup)
    for held in about.held:
        if not _NAMES.isdisjoint(held.one.plate):
            yield from _of(f"{held.place}.plate", held.one.label, held.one.plate)


def _of(place: str, who: str, plate: Mapping[str, Any]) -> Iterator[Finding]:
    for pair in ORDERED:
        values = [number(plate, name) for name in pair]
        low, high = values
        if low is not None and high is not None and low > high:
            parts = _parts(pair, (low, high))
            yield Finding(f"{place}.{pair[0]}", who, "rating.order", parts, practice())


def _parts(pair: Sequence[str], values: Sequence[float]) -> dict[str, str]:
    said = [
        f"{field(name).in_sentence} {plain(value)} {field(name).said_unit}".strip()
        for name, value in zip(pair, values, strict=True)
    ]
    return {"low": said[0], "high": said[1]}
