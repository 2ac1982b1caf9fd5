"""What a lineup would become: entered, changed and left out, thing by thing."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from models.fields import Kind, find_field
from models.judging.wording import plain
from models.record.lineup_draft import ApparatusDraft, CellDraft, LineupDraft

ENTERED, CHANGED, LEFT_OUT = "entered", "changed", "left out"
OF_A_CELL = {
    "number": "Number",
    "name": "Name",
    "kind": "Drawn as",
    "bus": "Bus section",
    "tie_to": "Ties to",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One difference: *change* is entered, changed or left out; blank: not given."""

    change: str
    who: str
    what: str = ""
    before: str = ""
    after: str = ""


def with_ids(draft: LineupDraft, stored: LineupDraft) -> LineupDraft:
    """Return *draft* with the ids of *stored* where it has none.

    A cell is known by its number, an apparatus by its cell and label.
    """
    taken = {one for one in _ids(draft) if one is not None}
    cells = {cell.number: cell for cell in stored.cells}
    known = {
        (cell.number, one.label): one.id
        for cell, one in stored.apparatus()
        if one.id not in taken
    }
    found = []
    for cell in draft.cells:
        before = cells.get(cell.number)
        cell_id = cell.id
        if cell_id is None and before is not None and before.id not in taken:
            cell_id = before.id
        held = [
            replace(one, id=known.get((cell.number, one.label)))
            if one.id is None
            else one
            for one in cell.apparatus
        ]
        found.append(replace(cell, id=cell_id, apparatus=held))
    return replace(draft, cells=found)


def differences(before: LineupDraft, after: LineupDraft) -> list[Difference]:
    """Return what *after* has otherwise than *before*, things known by their ids."""
    return [
        *_lineup(before, after),
        *_sections(before, after),
        *_cells(before, after),
        *_held(before, after),
    ]


def _lineup(before: LineupDraft, after: LineupDraft) -> Iterator[Difference]:
    who = "The lineup"
    for key, label in (("name", "Name"), ("gear", "Gear")):
        old, new = getattr(before, key), getattr(after, key)
        if old != new:
            yield _changed(who, label, _said(key, old), _said(key, new))
    yield from _plates(who, before.ratings, after.ratings)


def _sections(before: LineupDraft, after: LineupDraft) -> Iterator[Difference]:
    old = {one.name: one.rated_a for one in before.sections}
    new = {one.name: one.rated_a for one in after.sections}
    for name in old.keys() - new.keys():
        yield Difference(change=LEFT_OUT, who=f"Bus section {name}")
    for name in new.keys() - old.keys():
        yield Difference(change=ENTERED, who=f"Bus section {name}")
    for name in sorted(old.keys() & new.keys()):
        yield from _plates(
            f"Bus section {name}", {"rated_a": old[name]}, {"rated_a": new[name]}
        )


def _cells(before: LineupDraft, after: LineupDraft) -> Iterator[Difference]:
    old = {cell.id: cell for cell in before.cells}
    kept = {cell.id for cell in after.cells}
    for cell in before.cells:
        if cell.id not in kept:
            yield Difference(change=LEFT_OUT, who=f"Cell {cell.number}, {cell.name}")
    for cell in after.cells:
        was = old.get(cell.id) if cell.id else None
        who = f"Cell {cell.number}, {cell.name}"
        if was is None:
            yield Difference(change=ENTERED, who=who)
            continue
        for key, label in OF_A_CELL.items():
            values = getattr(was, key), getattr(cell, key)
            if values[0] != values[1]:
                yield _changed(who, label, *(str(one or "") for one in values))
    order = [cell.id for cell in before.cells if cell.id in kept]
    if order != [cell.id for cell in after.cells if cell.id in old]:
        yield _changed("The lineup", "Order of the cells", _row(before), _row(after))


def _held(before: LineupDraft, after: LineupDraft) -> Iterator[Difference]:
    old = {one.id: (cell, one) for cell, one in before.apparatus()}
    kept = {one.id for _, one in after.apparatus()}
    for cell, one in before.apparatus():
        if one.id not in kept:
            yield Difference(change=LEFT_OUT, who=_who(cell, one))
    for cell, one in after.apparatus():
        was = old.get(one.id) if one.id else None
        if was is None:
            yield Difference(change=ENTERED, who=_who(cell, one))
            continue
        if was[0].id != cell.id:
            yield _changed(_who(cell, one), "Cell", was[0].number, cell.number)
        for key, label in (("kind", "Apparatus"), ("label", "Label")):
            values = getattr(was[1], key), getattr(one, key)
            if values[0] != values[1]:
                yield _changed(_who(cell, one), label, *values)
        yield from _plates(_who(cell, one), was[1].plate, one.plate)


def _plates(
    who: str, before: Mapping[str, Any], after: Mapping[str, Any]
) -> Iterator[Difference]:
    for name in dict.fromkeys((*before, *after)):
        old, new = before.get(name), after.get(name)
        if old != new:
            about = find_field(name)
            label = about.label if about else name
            yield _changed(who, label, _said(name, old), _said(name, new))


def _said(name: str, value: Any) -> str:
    """Return a value as people read it, with its unit."""
    about = find_field(name)
    if value is None or about is None:
        return "" if value is None else str(value)
    if isinstance(value, list | tuple):
        return ", ".join(plain(one) for one in value)
    if about.kind is Kind.CHOICE:
        return about.choice_words(value)
    if about.kind is Kind.YES_NO:
        return "yes" if value else "no"
    shown = value if isinstance(value, str) else plain(value)
    return f"{shown} {about.said_unit}".strip()


def _changed(who: str, what: str, before: str, after: str) -> Difference:
    return Difference(change=CHANGED, who=who, what=what, before=before, after=after)


def _who(cell: CellDraft, one: ApparatusDraft) -> str:
    return f"Cell {cell.number}, {one.label}"


def _row(draft: LineupDraft) -> str:
    return ", ".join(cell.number for cell in draft.cells)


def _ids(draft: LineupDraft) -> Sequence[UUID | None]:
    return [cell.id for cell in draft.cells] + [one.id for _, one in draft.apparatus()]
