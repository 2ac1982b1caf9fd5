"""What a tablet says of a photograph, checked, and as it stands in the record."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from models.errors import Fault, InputError
from models.schema import Card, Deficiency
from models.services.field.entry import read_envelope
from models.services.field.read_place import Place, read_place
from models.services.keeping.log import stamp
from models.services.keeping.texts import storable

LONGEST = {"name": 120, "note": 500}  # characters
MOST_MARKS = 50
ORIGINAL_OF = "original of "  # how the note of an original begins
LONGEST_MARK = 120  # characters of a line of text on the picture
SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A photograph as it is announced: *taken_at* is never after it was told.

    *marks* are what was drawn into it: {"kind": "arrow"} or {"kind": "text", "text"},
    with places in thousandths of its sides. *digest*: SHA-256, None from a tablet that
    cannot work it out. *place*: where it was taken, None where nobody wanted it kept.
    *original_of*: the photograph on record that this is the unscaled original of.
    """

    id: UUID
    card_id: UUID
    point_id: UUID | None
    deficiency_id: UUID | None
    taken_at: datetime
    size: int  # bytes
    digest: str | None
    name: str
    note: str
    marks: list[dict[str, Any]]
    place: Place | None = None
    original_of: UUID | None = None

    def as_json(self) -> dict[str, Any]:
        """Return it as `read_photograph` reads it."""
        return {
            "photo": str(self.id),
            "card_id": str(self.card_id),
            "point_id": str(self.point_id) if self.point_id else None,
            "deficiency_id": str(self.deficiency_id) if self.deficiency_id else None,
            "at": stamp(self.taken_at),
            "size": self.size,
            "digest": self.digest,
            "name": self.name,
            "note": self.note,
            "marks": self.marks,
            "place": self.place.as_json() if self.place else None,
            "original_of": str(self.original_of) if self.original_of else None,
        }

    def logged(self) -> dict[str, Any]:
        """Return what the log says of it beside what it says of every file."""
        said = self.as_json()
        names = ("at", "point_id", "deficiency_id", "marks")
        wanted = {n: said[n] for n in ("place", "original_of") if said[n] is not None}
        return {name: said[name] for name in names} | wanted


def read_photograph(raw: Any, *, now: datetime) -> Photograph:
    """Read what a tablet says; InputError names all that is wrong."""
    if not isinstance(raw, dict):
        raise InputError(Fault(field="", message="Send a JSON object."))
    faults: list[Fault] = []
    envelope = read_envelope({**raw, "key": raw.get("photo")}, faults, now)
    ids = [
        _id(raw, name, faults, wanted=name == "card_id")
        for name in ("card_id", "point_id", "deficiency_id", "original_of")
    ]
    texts = {name: _text(raw, name, faults) for name in LONGEST}
    size, digest, marks = raw.get("size"), raw.get("digest"), raw.get("marks") or []
    if type(size) is not int or size < 1:
        faults.append(Fault(field="size", message="Say how many bytes it has."))
    if digest is not None and not SHA256.fullmatch(str(digest)):
        faults.append(Fault(field="digest", message="This is no SHA-256."))
    if not _are_marks(marks):
        message = f"Send at most {MOST_MARKS} arrows and lines of text."
        faults.append(Fault(field="marks", message=message))
    place = read_place(raw.get("place"), faults)
    if faults or envelope is None or ids[0] is None:
        raise InputError(*faults)
    return Photograph(
        id=envelope.key,
        card_id=ids[0],
        point_id=ids[1],
        deficiency_id=ids[2],
        taken_at=envelope.at,
        size=int(raw["size"]),
        digest=digest,
        name=texts["name"] or "photograph.jpg",
        note=texts["note"],
        marks=marks,
        place=place,
        original_of=ids[3],
    )


def caption(
    photograph: Photograph,
    card: Card,
    deficiency: Deficiency | None,
    original_of: str | None = None,
) -> str:
    """Return the note of its attachment: what it shows, when taken, what is drawn.

    *original_of*: the name of the scaled picture, for an original.
    """
    about = [p.label for p in card.points if p.id == photograph.point_id]
    if deficiency is not None:
        about.append(f"D-{deficiency.number:03d}")
    zone = ZoneInfo(card.round.lineup.site.zone)
    taken = f"{photograph.taken_at.astimezone(zone):%Y-%m-%d %H:%M %z}"
    said = [
        f"{ORIGINAL_OF}{original_of}" if original_of else "",
        photograph.note,
        *about,
        f"taken {taken}",
        f"at {photograph.place.words()}" if photograph.place else "",
        _drawn(photograph.marks),
    ]
    return " · ".join(filter(None, said))


def _drawn(marks: list[dict[str, Any]]) -> str:
    arrows = sum(one["kind"] == "arrow" for one in marks)
    texts = [f"“{one['text']}”" for one in marks if one["kind"] == "text"]
    shown = [f"{arrows} arrow{'s' if arrows > 1 else ''}"] if arrows else []
    return f"drawn on it: {', '.join(shown + texts)}" if marks else ""


def _are_marks(marks: Any) -> bool:
    if not isinstance(marks, list) or len(marks) > MOST_MARKS:
        return False
    return all(isinstance(one, dict) and _is_mark(one) for one in marks)


def _is_mark(mark: Mapping[str, Any]) -> bool:
    places = {"arrow": ("from", "to"), "text": ("at",)}.get(str(mark.get("kind")))
    if places is None or not all(_is_place(mark.get(name)) for name in places):
        return False
    text = mark.get("text", "")
    return isinstance(text, str) and len(text) <= LONGEST_MARK and storable(text)


def _is_place(place: Any) -> bool:
    if not isinstance(place, list) or len(place) != 2:
        return False
    return all(type(one) is int and 0 <= one <= 1000 for one in place)


def _text(raw: Mapping[str, Any], name: str, faults: list[Fault]) -> str:
    value = raw.get(name) or ""
    if not isinstance(value, str) or len(value) > LONGEST[name] or not storable(value):
        message = f"Keep it under {LONGEST[name]} characters, of letters and signs."
        faults.append(Fault(field=name, message=message))
        return ""
    return value.strip()


def _id(
    raw: Mapping[str, Any], name: str, faults: list[Fault], *, wanted: bool
) -> UUID | None:
    value = raw.get(name)
    if value is None and not wanted:
        return None
    try:
        return UUID(str(value))
    except ValueError:
        faults.append(Fault(field=name, message="This is not an identifier."))
        return None
