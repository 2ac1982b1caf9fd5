"""A lineup is saved whole or not at all; apparatus moves; a second person confirms."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.record.lineup_draft import ApparatusDraft, CellDraft, LineupDraft
from models.schema import Apparatus, LogEntry
from models.services.owner.baseline import turned_over
from models.services.setup.confirm_plates import confirm_plates, plates_of
from models.services.setup.move_apparatus import Moved, move_apparatus
from models.services.setup.save_lineup import save_lineup
from models.services.setup.stored_draft import lineup_draft_of
from models.services.setup.things import find_things, spare_shelf, thing
from models.services.turnover.gate import gate
from tests.scenario import (
    CR,
    LEAD,
    LINEUP,
    OTHER_LEAD,
    RIVAL,
    SECOND,
    SITE,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)

BREAKER = fixed_id(f"{SITE} breaker 52")
BUS = fixed_id(f"{SITE} bus")
FEEDER = fixed_id("feeder")
SPARE = ApparatusDraft(
    id=fixed_id("breaker 53"),
    kind="breaker",
    label="breaker 53",
    plate={"serial": "V-53", "conductor": "copper"},
)
NEW_CELL = CellDraft(
    id=FEEDER, number="2", name="Feeder", kind="breaker", bus="bus", apparatus=[SPARE]
)


def draft(work: Work) -> LineupDraft:
    return lineup_draft_of(work.session, LEAD.id, lineup_id())[0]


def save(work: Work, changed: LineupDraft, **given: Any) -> UUID:
    return save_lineup(
        work.session,
        **{
            "person_id": LEAD.id,
            "site_id": fixed_id(SITE),
            "lineup_id": lineup_id(),
            "draft": changed,
            "now": work.tick(),
            "new_id": uuid4,
        }
        | given,
    )


def with_feeder(work: Work) -> LineupDraft:
    old = draft(work)
    save(work, replace(old, cells=[*old.cells, NEW_CELL]))
    return draft(work)


def change_apparatus(found: LineupDraft, key: UUID, **change: Any) -> LineupDraft:
    cells = [
        replace(
            cell,
            apparatus=[
                replace(one, **change) if one.id == key else one
                for one in cell.apparatus
            ],
        )
        for cell in found.cells
    ]
    return replace(found, cells=cells)


def move(work: Work, **given: Any) -> Moved:
    return move_apparatus(
        work.session,
        **{
            "person_id": LEAD.id,
            "apparatus_id": BREAKER,
            "cell_id": None,
            "on": work.at.date(),
            "reason": "worn contacts",
            "now": work.tick(),
            "new_id": uuid4,
        }
        | given,
    )


def test_what_is_saved_is_read_back_and_counted(opened: Work) -> None:
    work = opened
    found = with_feeder(work)
    again, version = lineup_draft_of(work.session, LEAD.id, lineup_id())
    assert (again, version) == (found, 2)
    assert [cell.number for cell in found.cells] == ["1", "2"]
    assert found.cells[1].apparatus == [SPARE]
    assert save(work, found) == lineup_id()  # nothing changed: nothing is saved
    assert lineup_draft_of(work.session, LEAD.id, lineup_id())[1] == 2
    entry = work.session.scalars(
        select(LogEntry).where(LogEntry.action == "change lineup")
    ).one()
    assert "V-53" in entry.body


def test_somebody_elses_save_is_not_written_over(opened: Work) -> None:
    old = draft(opened)
    with_feeder(opened)
    with pytest.raises(ConflictError, match="Somebody else saved MV-1"):
        save(opened, replace(old, name="MV-9"), seen_version=1)
    assert draft(opened).name == LINEUP


def no_breaker(found: LineupDraft) -> LineupDraft:
    cell = found.cells[0]
    kept = [one for one in cell.apparatus if one.id != BREAKER]
    return replace(found, cells=[replace(cell, apparatus=kept), *found.cells[1:]])


Change = Callable[[LineupDraft], LineupDraft]
REFUSED: dict[str, tuple[Change, str, str]] = {
    "a tested apparatus left out": (
        no_breaker,
        "cells",
        "breaker 52 of cell 1 has cards: it cannot be removed. Move it to the",
    ),
    "a tested cell left out": (
        lambda found: replace(found, cells=found.cells[1:]),
        "cells",
        "Cell 1 has cards: it cannot be removed.",
    ),
    "a tested thing of another kind": (
        lambda found: change_apparatus(found, BUS, kind="joint"),
        "cells.0.apparatus.0.kind",
        "Cell 1, bus has cards: it stays what it is.",
    ),
    "other gear": (
        lambda found: replace(found, gear="gas_insulated"),
        "gear",
        "The lineup has rounds",
    ),
    "a plate that changes after readings": (
        lambda found: change_apparatus(found, BREAKER, plate={"serial": "V-1"}),
        "reason",
        "Readings were taken on breaker 52 of cell 1: say why the nameplate",
    ),
    "two cells of one number": (
        lambda found: replace(
            found, cells=[found.cells[0], replace(found.cells[1], number="1")]
        ),
        "cells.1.number",
        "Two cells have the number 1.",
    ),
}


def test_what_a_change_may_not_do(opened: Work) -> None:
    work = opened
    work.fill("breaker 52", CR)
    found = with_feeder(work)
    got = {}
    for case, (spoil, place, _) in REFUSED.items():
        with pytest.raises(InputError) as error:
            save(work, spoil(found))
        got[case] = {f.field: f.message for f in error.value.faults}.get(place, "")
    for case, (_, _, said) in REFUSED.items():
        assert got[case].startswith(said), case
    assert draft(work) == found


def test_what_was_not_tested_is_taken_out_and_its_serial_is_free(opened: Work) -> None:
    work = opened
    found = with_feeder(work)
    save(work, replace(found, cells=found.cells[:1]))
    assert [cell.number for cell in draft(work).cells] == ["1"]
    assert spare_shelf(work.session, person_id=LEAD.id, site_id=fixed_id(SITE))[1] == []
    again = replace(NEW_CELL, id=None, apparatus=[replace(SPARE, id=None)])
    save(work, replace(draft(work), cells=[*draft(work).cells, again]))


def test_a_breaker_moves_with_its_readings_and_the_card_stays(opened: Work) -> None:
    work = opened
    work.fill("breaker 52", CR)
    with_feeder(work)
    with pytest.raises(InputError, match="Cell 2 holds breaker 53"):
        move(work, cell_id=FEEDER)
    moved = move(work, cell_id=FEEDER, swap=True)
    assert (moved.where, moved.swapped) == ("cell 2", "breaker 53")
    assert any("stays in cell 1" in said for said in moved.stayed)
    places = {card.procedure: card.cell.number for card in work.cards.values()}
    assert places[CR] == "1"
    unread = work.card("breaker 52", "vacuum_integrity")
    assert unread.cell.number == "2"
    shown = thing(work.session, person_id=LEAD.id, apparatus_id=BREAKER)
    assert [stay.where for stay in shown.stays] == ["MV-1, cell 2", "MV-1, cell 1"]
    assert any(card.counts["within"] == 3 for card in shown.cards)
    move(work)  # on to the spare shelf
    site, rows = spare_shelf(work.session, person_id=LEAD.id, site_id=fixed_id(SITE))
    assert (site.name, [row.label for row in rows]) == (SITE, ["breaker 52"])


def test_readings_follow_a_breaker_into_another_lineup(accepted: Work) -> None:
    work = accepted
    draft_2 = replace(draft(work), name="MV-2", cells=[NEW_CELL])
    second = save(work, draft_2, lineup_id=None)
    move(work, cell_id=FEEDER, swap=True)
    rounds = turned_over(work.session, second, BREAKER)
    assert [one.id for one in rounds] == [work.round_id]
    assert turned_over(work.session, second) == []


MOVES: dict[str, tuple[dict[str, Any], str]] = {
    "what is fixed": ({"apparatus_id": BUS}, "bus is fixed"),
    "no reason": ({"reason": " "}, "why it is moved"),
    "no day": ({"on": None}, "Give the day"),
    "a day to come": ({"on": date(2031, 1, 1)}, "still to come"),
    "where it stands": (
        {"cell_id": fixed_id(f"{SITE} cell 1")},
        "breaker 52 stands there already",
    ),
}


def test_moves_that_are_refused(opened: Work) -> None:
    for case, (given, said) in MOVES.items():
        with pytest.raises(InputError) as error:
            move(opened, **given)
        assert said in str(error.value), case
    with pytest.raises(NotFoundError):
        move(opened, cell_id=fixed_id("Saltern crusher house cell 1"))
    with pytest.raises(ForbiddenError):
        move(opened, person_id=TECHNICIAN.id)
    move(opened)
    back = opened.at.date() - timedelta(days=3)
    with pytest.raises(InputError, match="was placed there on"):
        move(opened, cell_id=fixed_id(f"{SITE} cell 1"), on=back)
    assert opened.session.get_one(Apparatus, BREAKER).cell_id is None


def found_by(work: Work, words: str, who: Cast = LEAD) -> list[str]:
    page = find_things(work.session, person_id=who.id, words=words)
    return [row.label for row in page.rows]


def test_three_letters_find_a_thing_by_serial_tag_kind_and_maker(opened: Work) -> None:
    with_feeder(opened)
    assert found_by(opened, "v-5") == ["breaker 53"]
    assert found_by(opened, "relay 51") == ["relay 51"]
    assert set(found_by(opened, "circ")) == {"breaker 52", "breaker 53"}
    assert found_by(opened, "nowhere") == []
    assert found_by(opened, "v-5", RIVAL) == []


def nameplates(work: Work) -> list[str]:
    found = gate(work.session, person_id=LEAD.id, round_id=work.round_id)
    return [
        item.text
        for line in found.still
        if line.code == "nameplates"
        for item in line.items
    ]


def confirm(work: Work, who: Cast) -> int:
    shown = plates_of(work.session, person_id=who.id, lineup_id=lineup_id())
    return confirm_plates(
        work.session,
        person_id=who.id,
        version_ids=[one.version_id for one in shown],
        now=work.tick(),
        new_id=uuid4,
    )


def test_a_changed_plate_waits_for_a_second_person(opened: Work) -> None:
    """A limit rests on it: until somebody else looked, the gate stays shut."""
    work = opened
    assert nameplates(work) == []
    old = draft(work)
    plate = {**old.cells[0].apparatus[1].plate, "contact_limit_uohm": 55.0}
    save(work, change_apparatus(old, BREAKER, plate=plate))
    assert nameplates(work) == ["Nameplate of breaker 52, cell 1"]
    with pytest.raises(ForbiddenError, match="You entered the nameplate of breaker 52"):
        confirm(work, LEAD)
    assert confirm(work, SECOND) == 1
    assert confirm(work, OTHER_LEAD) == 0  # nothing is left
    assert nameplates(work) == []
    shown = thing(work.session, person_id=LEAD.id, apparatus_id=BREAKER)
    changes = [said for _, said in shown.versions]
    assert changes[0] == ["Maker's contact resistance limit: 60 µΩ → 55 µΩ"]
