"""Starting points: what is laid out, what is refused, and that the file is in order."""

from dataclasses import replace

import pytest

from models.criteria import library
from models.errors import InputError, NotFoundError
from models.fields import field
from models.procedures.plates import apparatus_kinds, cell_kinds
from models.record.lineup_draft import LineupDraft, draft_json
from models.record.read_lineup_draft import read_draft
from models.services.setup.starting_points import (
    Answers,
    Point,
    holds_of,
    lay_out,
    likely_cells,
    points,
    rated_rows,
    tag_of,
)

KV_15 = "rated_metal_clad:15:36:95"
ANSWERS = Answers(name="SG-7", row=KV_15, rated_a="2 kA", repeated="3")


def said(draft: LineupDraft) -> list[str]:
    """Return each cell in a line."""
    return [
        f"{cell.number} {cell.name} {cell.bus}{'>' if cell.tie_to else ''}: "
        f"{', '.join(one.label for one in cell.apparatus)}"
        for cell in draft.cells
    ]


def test_metal_clad_gear_with_a_tie_and_three_feeders() -> None:
    draft = lay_out("metal_clad_tie", replace(ANSWERS, rated_a="2000", prefix="P"))
    assert said(draft) == [
        "1 Incomer A bus A: bus A, breaker P52-1, relay P51-1",
        "2 Feeder 1 bus A: breaker P52-2, relay P51-2",
        "3 Feeder 2 bus A: breaker P52-3, relay P51-3",
        "4 Bus tie bus A>: breaker P52-4",
        "5 Feeder 3 bus B: bus B, breaker P52-5, relay P51-5",
        "6 Incomer B bus B: breaker P52-6, relay P51-6",
    ]
    assert draft.ratings == {
        "rated_kv": 15.0,
        "rated_withstand_kv": 36.0,
        "rated_impulse_kv": 95.0,
        "rated_a": 2000.0,
    }
    assert [one.rated_a for one in draft.sections] == [2000.0, 2000.0]
    assert all(not one.plate for _, one in draft.apparatus())


WRONG: dict[str, tuple[Answers, dict[str, str]]] = {
    "nothing answered": (
        Answers(),
        {
            "row": "Choose the voltages that stand on the lineup's own plate.",
            "repeated": "Feeders: Enter a value.",
        },
    ),
    "a row of other gear": (
        replace(ANSWERS, row="rated_enclosed:15:36:95", rated_a=""),
        {"row": "Choose the voltages that stand on the lineup's own plate."},
    ),
    "half a feeder": (
        replace(ANSWERS, repeated="2.5", rated_a=""),
        {"repeated": "Feeders: 2.5 must be a whole number between 0 and 40."},
    ),
    "too long a prefix": (
        replace(ANSWERS, prefix="x" * 21, rated_a=""),
        {"prefix": "Keep it within 20 characters."},
    ),
    "no current": (
        replace(ANSWERS, rated_a="-5"),
        {
            "rated_a": "Rated continuous current: -5 must be above 0 and at most "
            "100000 A."
        },
    ),
}


@pytest.mark.parametrize(("answers", "faults"), WRONG.values(), ids=WRONG)
def test_an_answer_that_cannot_be_is_refused_at_its_field(
    answers: Answers, faults: dict[str, str]
) -> None:
    with pytest.raises(InputError) as caught:
        lay_out("metal_clad_tie", answers)
    assert {one.field: one.message for one in caught.value.faults} == faults


def test_there_is_no_other_starting_point() -> None:
    with pytest.raises(NotFoundError):
        lay_out("heap", ANSWERS)


@pytest.mark.parametrize("repeated", [0, 1, 40])
@pytest.mark.parametrize("point", points(), ids=[one.key for one in points()])
def test_every_starting_point_gives_a_draft_that_can_be_read(
    point: Point, repeated: int
) -> None:
    count = max(repeated, point.repeated.least)
    rows = rated_rows(point.gear)
    answers = Answers(name="A", row=rows[0].key, repeated=str(count))
    draft = lay_out(point.key, answers)
    assert read_draft(draft_json(draft)) == draft
    assert len(draft.cells) == count + sum(not cell.repeat for cell in point.cells)


def test_every_kind_has_its_tag_and_every_cell_what_it_holds() -> None:
    assert all("{n}" in tag_of(kind) or kind == "bus" for kind in apparatus_kinds())
    held = [one for kind in cell_kinds() for one in holds_of(kind)]
    assert {one.kind for one in held} <= set(apparatus_kinds())
    for gear in field("gear").choices:
        assert sorted(likely_cells(gear)) == sorted(cell_kinds())


def test_rows_are_those_of_the_tables_with_each_pair_that_a_row_prints() -> None:
    rows = {row.key: row for row in rated_rows("metal_clad")}
    assert rows[KV_15].words == "15 kV, 95 kV impulse, 36 kV power frequency"
    assert not rows[KV_15].recalled
    assert {"rated_iec:12:28:60", "rated_iec:12:28:75"} <= set(rows)
    assert rows["rated_iec:12:28:60"].recalled  # its impulse level is from memory
    printed = {row.name for row in library.table("rated_metal_clad").rows}
    own = [row for row in rows.values() if row.key.startswith("rated_metal_clad")]
    assert len(own) == len(printed)
