"""A lineup's draft as rows of a table: what `read_rows` reads back, exactly."""

from collections.abc import Iterator, Sequence, Set
from typing import Any, NamedTuple

from models.fields import FIELDS, Field, Kind, field
from models.procedures.plates import (
    GROUPS,
    LINEUP,
    apparatus_kinds,
    cell_kinds,
    plate_fields,
    plate_groups,
)
from models.record.lineup_draft import ApparatusDraft, CellDraft, LineupDraft
from models.record.lineup_table.headings import (
    CELL,
    FIRST,
    GEAR,
    LAST,
    NAME,
    REMARK,
    SECTION,
    heading,
    marked,
    table_fields,
)

Value = str | float | None
Line = Sequence[Value]
USUAL = ("identity", "ratings", "settings")  # groups that a table has columns for
# What usually stands in a gear (common practice): the columns of an empty table.
USUAL_KINDS = {
    "metal_clad": ("bus", "breaker", "relay", "ct", "vt", "cpt", "cable"),
    "metal_enclosed": ("bus", "switch", "fused_switch", "relay", "ct", "vt", "cable"),
    "gas_insulated": (
        *("bus", "gas_tank", "three_position_switch", "breaker"),
        *("relay", "ct", "vt", "cable"),
    ),
}

EXPLAINED = (
    "One row an apparatus. A row that begins with # and a blank is passed over.",
    "Cells stand in their order from the left, seen from the front; the rows of one "
    "cell follow each other.",
    "Cell name, drawn as, bus section and ties to stand in the first row of a cell; "
    "below they may be blank.",
    "A cell without apparatus has one row, Apparatus and Label blank.",
    "Numbers have a point for the decimal sign; the unit stands in the heading. "
    "Blank means not known.",
    "Columns may stand in any order, and those that are not needed be left out. "
    "Leave the ids as they are: by them a lineup is changed and not entered anew.",
)


class Table(NamedTuple):
    """The lines before the table, and the table: headings first."""

    before: Sequence[Line]
    rows: Sequence[Line]


def table_of(draft: LineupDraft) -> Table:
    """Return *draft* as a table: texts, numbers, and None for blank."""
    columns = _columns([one for _, one in draft.apparatus()])
    headings = [*FIRST, *map(heading, columns), *LAST]
    rows = [row for cell in draft.cells for row in _cell(cell, columns)]
    return Table([*_remarks(), *_block(draft)], [headings, *rows])


def template_of(gear: str) -> Table:
    """Return an empty table for a *gear*, with examples that are passed over."""
    ratings: list[Line] = [(heading(one), None) for one in plate_fields(LINEUP)]
    before: list[Line] = [
        *_remarks(),
        (NAME, None),
        (GEAR, field("gear").choice_words(gear)),
        *ratings,
        (f"{REMARK} A line for each bus section: its name, its rated current in A.",),
        (SECTION, None, None),
    ]
    headings = [*FIRST, *map(heading, _ordered(USUAL_KINDS[gear], set())), *LAST]
    examples: list[Line] = [
        (f"{REMARK} {CELL} 1", "Incomer A", "circuit breaker", "bus A", None,
         "circuit breaker", "breaker 52-1"),
        (f"{REMARK}", None, None, None, None, "protection relay", "relay 51-1"),
    ]  # fmt: skip
    return Table(before, [headings, *examples])


def words() -> Iterator[Line]:
    """Yield what may stand under the headings that take one of several words."""
    yield ("Drawn as", ", ".join(cell_kinds().values()))
    yield ("Apparatus", ", ".join(kind.label for kind in apparatus_kinds().values()))
    for one in dict.fromkeys((field("gear"), *plate_fields(LINEUP), *table_fields())):
        if one.kind is Kind.CHOICE:
            yield (heading(one), ", ".join(one.choice_words(c) for c in one.choices))
        elif one.kind is Kind.YES_NO:
            yield (heading(one), "yes, no")


def _remarks() -> Iterator[Line]:
    return ((f"{REMARK} {line}",) for line in EXPLAINED)


def _block(draft: LineupDraft) -> Iterator[Line]:
    yield (NAME, draft.name)
    yield (GEAR, field("gear").choice_words(draft.gear))
    # The frequency goes first: cycles are read by it.
    for one in sorted(plate_fields(LINEUP), key=lambda f: f.name != "rated_hz"):
        if one.name in draft.ratings:
            yield (heading(one), _value(one, draft.ratings[one.name]))
    for section in draft.sections:
        yield (SECTION, section.name, section.rated_a)


def _cell(cell: CellDraft, columns: Sequence[Field]) -> Iterator[Line]:
    drawn = cell_kinds().get(cell.kind, cell.kind)
    own = (marked(cell.number), cell.name, drawn, cell.bus, cell.tie_to)
    cell_id = None if cell.id is None else str(cell.id)
    for one in cell.apparatus:
        yield (*own, *_apparatus(one, columns, cell_id))
    if not cell.apparatus:
        yield (*own, None, None, *(None for _ in columns), cell_id, None)


def _apparatus(
    one: ApparatusDraft, columns: Sequence[Field], cell_id: str | None
) -> Iterator[Value]:
    known = apparatus_kinds().get(one.kind)
    yield known.label if known else one.kind
    yield one.label
    for column in columns:
        yield _value(column, one.plate.get(column.name))
    yield cell_id
    yield None if one.id is None else str(one.id)


def _columns(held: Sequence[ApparatusDraft]) -> Sequence[Field]:
    """Return the usual columns of the kinds that there are, and those in use."""
    kinds = dict.fromkeys(o.kind for o in held if o.kind in apparatus_kinds())
    return _ordered(tuple(kinds), {name for one in held for name in one.plate})


def _ordered(kinds: Sequence[str], used: Set[str]) -> Sequence[Field]:
    """Return the columns of *kinds*, group by group, each field once."""
    found: dict[str, Field] = {}
    for group in GROUPS:
        for kind in kinds:
            for one in plate_groups(kind).get(group, ()):
                if group in USUAL or one.name in used:
                    found.setdefault(one.name, one)
    # A plate from before may say what its kind does not have today: nothing is lost.
    others = [FIELDS[name] for name in sorted(used - set(found)) if name in FIELDS]
    return [*found.values(), *others]


def _value(one: Field, value: Any) -> Value:
    """Return what stands in a cell: a number as it is, everything else as a text."""
    if value is None:
        return None
    if one.kind is Kind.YES_NO:
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return " ".join(map(repr, value))
    if one.kind is Kind.CHOICE:
        return one.choice_words(value)
    return value if isinstance(value, str) else float(value)
