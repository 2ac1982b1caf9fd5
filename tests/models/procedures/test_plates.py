"""What a nameplate of each kind can say, and what a cell can hold and be drawn with."""

import pytest

from models.criteria.table_file import SUBJECTS
from models.fields import Role
from models.procedures import PROCEDURES
from models.procedures.plates import (
    GROUPS,
    LINEUP,
    apparatus_kinds,
    cell_kinds,
    plate_fields,
    plate_groups,
    plate_names,
)
from webapp.drawing.symbols import KIND_WORDS


def test_what_a_cell_is_drawn_with_is_what_the_drawing_knows() -> None:
    assert dict(cell_kinds()) == KIND_WORDS


def test_every_kind_that_a_procedure_is_done_on_can_be_entered() -> None:
    tested = {kind for one in PROCEDURES.values() for kind in one.apparatus}

    assert tested <= set(apparatus_kinds())
    assert tested <= set(SUBJECTS)


@pytest.mark.parametrize("kind", [LINEUP, *apparatus_kinds()])
def test_each_field_stands_in_one_group_and_the_identity_comes_first(kind: str) -> None:
    groups = plate_groups(kind)
    names = [one.name for one in plate_fields(kind)]

    assert list(groups) == [group for group in GROUPS if group in groups]
    assert names[:4] == ["maker", "type", "serial", "built_year"]
    assert len(names) == len(set(names))
    for one in plate_fields(kind):
        assert one.roles & {Role.NAMEPLATE, Role.RELAY, Role.SITE}


def test_what_a_limit_rests_on_can_be_entered() -> None:
    for procedure in PROCEDURES.values():
        for kind in procedure.apparatus:
            elsewhere = {"gear", "contact_correction"}  # of the lineup, of the site
            assert set(procedure.rests_on) - elsewhere <= plate_names(kind)


MOVES = {
    "a breaker of metal-clad gear is drawn out": ("breaker", "metal_clad", True),
    "one sealed in its tank stays": ("breaker", "gas_insulated", False),
    "a truck of transformers": ("vt", "metal_enclosed", True),
    "a bus": ("bus", "metal_clad", False),
}


@pytest.mark.parametrize(("kind", "gear", "moves"), MOVES.values(), ids=MOVES)
def test_what_can_be_moved(kind: str, gear: str, moves: bool) -> None:
    assert apparatus_kinds()[kind].moves_in(gear) is moves
