"""What a lineup would become."""

from dataclasses import replace
from uuid import UUID

import pytest

from models.record.lineup_differences import differences, with_ids
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)

ONE, TWO, THREE, FOUR = (UUID(int=n) for n in range(1, 5))
BREAKER = ApparatusDraft(
    id=THREE, kind="breaker", label="52-1", plate={"serial": "V-1", "rated_a": 1200.0}
)
RELAY = ApparatusDraft(
    id=FOUR, kind="relay", label="51-1", plate={"element": "51", "multiples": [2, 3]}
)
CELL = CellDraft(
    id=ONE, number="1", name="Pump", kind="breaker", bus="A", apparatus=[BREAKER, RELAY]
)
SPARE = CellDraft(id=TWO, number="2", name="Spare", kind="blank", bus="A")
STORED = LineupDraft(
    name="SG",
    gear="metal_clad",
    ratings={"rated_kv": 15.0},
    sections=[SectionDraft(name="A", rated_a=1200.0)],
    cells=[CELL, SPARE],
)


def became(cell: CellDraft, *others: CellDraft) -> LineupDraft:
    return replace(STORED, cells=[cell, *others])


CHANGES = {
    "nothing": (STORED, []),
    "a serial number": (
        became(
            replace(
                CELL,
                apparatus=[
                    replace(BREAKER, plate={**BREAKER.plate, "serial": "V-2"}),
                    RELAY,
                ],
            ),
            SPARE,
        ),
        [("changed", "Cell 1, 52-1", "Serial number", "V-1", "V-2")],
    ),
    "a field that was not given": (
        became(
            replace(
                CELL,
                apparatus=[
                    BREAKER,
                    replace(RELAY, plate={**RELAY.plate, "pickup_a": 480.0}),
                ],
            ),
            SPARE,
        ),
        [("changed", "Cell 1, 51-1", "Pickup", "", "480 A")],
    ),
    "a list, and a choice": (
        became(
            replace(
                CELL,
                apparatus=[
                    BREAKER,
                    replace(RELAY, plate={"element": "50", "multiples": [5]}),
                ],
            ),
            SPARE,
        ),
        [
            ("changed", "Cell 1, 51-1", "Element", "51 phase", "50 phase"),
            ("changed", "Cell 1, 51-1", "Test multiples of pickup", "2, 3", "5"),
        ],
    ),
    "a breaker in another cell": (
        became(replace(CELL, apparatus=[RELAY]), replace(SPARE, apparatus=[BREAKER])),
        [("changed", "Cell 2, 52-1", "Cell", "1", "2")],
    ),
    "a cell left out": (became(CELL), [("left out", "Cell 2, Spare", "", "", "")]),
    "a cell entered": (
        became(CELL, SPARE, replace(SPARE, id=None, number="3", name="New")),
        [("entered", "Cell 3, New", "", "", "")],
    ),
    "cells in another order": (
        became(SPARE, CELL),
        [("changed", "The lineup", "Order of the cells", "1, 2", "2, 1")],
    ),
    "ratings and sections": (
        replace(
            STORED,
            ratings={"rated_kv": 15.0, "rated_ka": 25.0},
            sections=[SectionDraft(name="A", rated_a=2000.0), SectionDraft(name="B")],
        ),
        [
            (
                "changed",
                "The lineup",
                "Rated short-time withstand current",
                "",
                "25 kA",
            ),
            ("entered", "Bus section B", "", "", ""),
            (
                "changed",
                "Bus section A",
                "Rated continuous current",
                "1200 A",
                "2000 A",
            ),
        ],
    ),
}


@pytest.mark.parametrize(("after", "expected"), CHANGES.values(), ids=CHANGES)
def test_what_becomes_other(
    after: LineupDraft, expected: list[tuple[str, str, str, str, str]]
) -> None:
    found = differences(STORED, after)
    assert [(d.change, d.who, d.what, d.before, d.after) for d in found] == expected


def without_ids(draft: LineupDraft) -> LineupDraft:
    return replace(
        draft,
        cells=[
            replace(
                cell,
                id=None,
                apparatus=[replace(one, id=None) for one in cell.apparatus],
            )
            for cell in draft.cells
        ],
    )


def test_what_has_no_id_is_known_by_number_and_label() -> None:
    assert differences(STORED, with_ids(without_ids(STORED), STORED)) == []


def test_an_id_that_is_given_is_taken_by_nobody_else() -> None:
    moved = replace(SPARE, number="1", name="Pump")
    draft = with_ids(replace(STORED, cells=[moved]), STORED)
    assert [cell.id for cell in draft.cells] == [TWO]
    renumbered = with_ids(
        became(replace(CELL, id=None), replace(CELL, number="2", apparatus=[])), STORED
    )
    assert [cell.id for cell in renumbered.cells] == [None, ONE]
