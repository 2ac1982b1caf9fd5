"""What a changed draft says otherwise, place by place, for the log."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.record.lineup_draft import LineupDraft, draft_json

GONE = None  # what stands where nothing stands


def draft_changes(before: LineupDraft, after: LineupDraft) -> dict[str, list[Any]]:
    """Return [old, new] of each place that differs; None where nothing stands.

    Cells and apparatus are named by their ids, or by number and label while they
    have none.
    """
    old, new = dict(_places(before)), dict(_places(after))
    return {
        place: [old.get(place, GONE), new.get(place, GONE)]
        for place in sorted(old.keys() | new.keys())
        if old.get(place, GONE) != new.get(place, GONE)
    }


def _places(draft: LineupDraft) -> Iterator[tuple[str, Any]]:
    data = draft_json(draft)
    yield from _fields("", data, ("name", "gear"))
    yield from _fields("ratings.", data["ratings"], data["ratings"])
    for at, section in enumerate(data["sections"]):
        place = f"section {section['name']}."
        yield f"{place}position", at + 1
        yield from _fields(place, section, ("rated_a",))
    for at, cell in enumerate(data["cells"]):
        place = f"cell {cell['id'] or cell['number']}."
        yield f"{place}position", at + 1
        yield from _fields(place, cell, ("number", "name", "kind", "bus", "tie_to"))
        for one in cell["apparatus"]:
            named = one["id"] or f"{cell['number']} {one['label']}"
            yield f"apparatus {named}.cell", cell["number"]
            yield from _fields(f"apparatus {named}.", one, ("kind", "label"))
            plate = one["plate"]
            yield from _fields(f"apparatus {named}.plate.", plate, plate)


def _fields(
    place: str, data: Mapping[str, Any], names: Any
) -> Iterator[tuple[str, Any]]:
    yield from ((f"{place}{name}", data[name]) for name in names)
