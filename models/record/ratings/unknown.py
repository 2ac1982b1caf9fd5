"""What was not compared, since it is not given: one line, never noise."""

from collections.abc import Iterator

from models.fields import FIELDS, field
from models.record.ratings.compared import Compared, Held
from models.record.ratings.remark import NOT_CHECKED, Remark, named
from models.words import say

OF_THE_LINEUP = (
    "rated_withstand_kv",
    "rated_impulse_kv",
    "rated_a",
    "rated_ka",
    "rated_s",
    "rated_hz",
    "altitude_m",
    "housing",
    "arc_type",
)
# Of an apparatus: what is wanted where something else rests on it.
OF_A_KIND = {
    "breaker": "rated_a",
    "fused_switch": "fuse_a",
    "ct": "ct_primary_a",
    "vt": "vt_primary_v",
}


def unknown_remarks(about: Compared) -> Iterator[Remark]:
    """Yield what is not given of the lineup, and what of its apparatus, a line each."""
    ratings = about.draft.ratings
    lacking = [
        name for name in OF_THE_LINEUP if name in FIELDS and not ratings.get(name, "")
    ]
    if lacking:
        names = ", ".join(field(name).in_sentence for name in lacking)
        text = say("rating.unknown", names=names)
        yield _remark(f"ratings.{lacking[0]}", text)
    wanting = [
        held
        for held in about.of_kind(*OF_A_KIND)
        if held.value(OF_A_KIND[held.one.kind]) is None
    ]
    if wanting:
        first = wanting[0]
        place = f"{first.place}.plate.{OF_A_KIND[first.one.kind]}"
        text = say("rating.unknown.apparatus", names=_named(wanting))
        yield _remark(place, text)


def _named(wanting: list[Held]) -> str:
    """Return whose field is missing: fuse rating of switch 89-2, switch 89-3; ..."""
    by_field: dict[str, list[str]] = {}
    for held in wanting:
        by_field.setdefault(OF_A_KIND[held.one.kind], []).append(held.one.label)
    return "; ".join(
        say("rating.of", field=field(name).in_sentence, names=named(labels))
        for name, labels in by_field.items()
    )


def _remark(place: str, text: str) -> Remark:
    return Remark(level=NOT_CHECKED, place=place, text=text, cite="")
