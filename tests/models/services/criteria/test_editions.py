"""Which edition is used: chosen per owner or site, by whom, and what it changes."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.schema import LogEntry, Site
from models.services.criteria.editions import (
    choose_edition,
    editions_of_site,
    prints_in_use,
    site_editions,
)
from models.services.keeping.check_record import check_record
from tests.models.services.criteria import chosen_before
from tests.scenario import (
    BEGAN,
    DW,
    IR,
    LEAD,
    OFF_SITE_LEAD,
    OTHER_SITE,
    OWNER,
    SITE,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
)

OLDER = {"insulation_minimum": "insulation_minimum_older"}


def choose(session: Session, by: Cast = LEAD, **given: Any) -> UUID:
    said: dict[str, Any] = {
        "site_id": fixed_id(SITE),
        "table_key": "insulation_minimum",
        "print_key": "insulation_minimum_older",
        "for_owner": False,
        "document": "Specification MH-12, clause 4",
        "reason": "the contract names the older print",
        "now": BEGAN,
        "new_id": uuid4,
    }
    return choose_edition(session, person_id=by.id, **said | given)


def in_use(session: Session, site: str = SITE) -> dict[str, str]:
    return prints_in_use(session, session.get_one(Site, fixed_id(site)))


def test_without_a_choice_nothing_is_changed(place: Session) -> None:
    assert in_use(place) == {}
    found = editions_of_site(place, person_id=LEAD.id, site_id=fixed_id(SITE))
    for table in found.tables:
        assert (table.in_use.default, table.choice, table.history) == (True, None, [])


def test_a_choice_holds_for_its_site(place: Session) -> None:
    choose(place)
    assert in_use(place) == OLDER
    assert in_use(place, OTHER_SITE) == {}


def test_the_owner_chooses_for_all_and_a_site_goes_before(place: Session) -> None:
    choose(place, OWNER, for_owner=True)
    assert in_use(place) == OLDER
    choose(place, print_key="insulation_minimum")
    assert in_use(place) == {}
    choose(place, print_key=None)  # the site's choice ends: the owner's holds again
    assert in_use(place) == OLDER
    choose(place, OWNER, for_owner=True, print_key=None)
    assert in_use(place) == {}
    (table, *_) = editions_of_site(
        place, person_id=OWNER.id, site_id=fixed_id(SITE)
    ).tables
    assert [(c.site_id is None, c.version) for c in table.history].count((True, 2)) == 1
    assert len(table.history) == 4


def test_a_choice_says_document_reason_and_who_and_is_logged(place: Session) -> None:
    choice = choose(place)
    entry = place.scalars(
        select(LogEntry).where(LogEntry.action == "choose edition")
    ).one()
    assert str(choice) in entry.body
    assert "Specification MH-12" in entry.body
    assert entry.actor_id == LEAD.id
    (table, *_) = editions_of_site(
        place, person_id=LEAD.id, site_id=fixed_id(SITE)
    ).tables
    assert table.choice is not None
    assert table.of_site
    assert table.choice.by.name == LEAD.name
    assert table.in_use.key == "insulation_minimum_older"
    assert check_record(place).faults == []


def test_new_rounds_are_compiled_from_the_print_in_use(place: Session) -> None:
    choose(place)
    work = Work.begin(place)
    rule = work.card("bus", IR).points[0].rule
    assert "2003 to 2009 prints" in {cite["edition"] for cite in rule["cite"]}


def test_another_standard_is_not_offered_and_a_choice_made_before_holds(
    place: Session,
) -> None:
    chosen = {
        "table_key": "withstand_field_fraction",
        "print_key": "withstand_field_fraction_iec",
    }
    with pytest.raises(InputError, match="another standard"):
        choose(place, **chosen)
    chosen_before.choose(place, **chosen)
    work = Work.begin(place)
    ac, _dc = work.card("bus", DW).points[0].rule["bounds"]
    assert ac["level_kv"] == pytest.approx(0.80 * 36)
    assert check_record(place).faults == []


NOT_ALLOWED: dict[str, tuple[Cast, dict[str, Any], type[Exception]]] = {
    "a technician": (TECHNICIAN, {}, ForbiddenError),
    "a lead who does not work there": (OFF_SITE_LEAD, {}, NotFoundError),
    "another owner": (STRANGER, {}, NotFoundError),
    "a lead for all of the owner's": (LEAD, {"for_owner": True}, ForbiddenError),
}
FAULTY: dict[str, tuple[dict[str, Any], str]] = {
    "no document": ({"document": " "}, "document"),
    "no reason": ({"reason": ""}, "reason"),
    "no such table": ({"table_key": "arc_types"}, "table_key"),
    "no such print": ({"print_key": "metals"}, "print_key"),
    "a print that states something else": (
        {"print_key": "insulation_minimum_rule"},
        "print_key",
    ),
    "a print at another reference": (
        {
            "table_key": "insulation_correction_20",
            "print_key": "insulation_correction_40",
        },
        "print_key",
    ),
}


@pytest.mark.parametrize(
    ("by", "given", "error"), NOT_ALLOWED.values(), ids=NOT_ALLOWED
)
@pytest.mark.any_database
def test_who_may_not(
    place: Session, by: Cast, given: dict[str, Any], error: type[Exception]
) -> None:
    with pytest.raises(error):
        choose(place, by, **given)


@pytest.mark.parametrize(("given", "field"), FAULTY.values(), ids=FAULTY)
@pytest.mark.any_database
def test_what_is_refused(place: Session, given: dict[str, Any], field: str) -> None:
    with pytest.raises(InputError) as refused:
        choose(place, **given)
    assert [fault.field for fault in refused.value.faults] == [field]
    assert in_use(place) == {}


def test_the_same_choice_twice_is_a_conflict(place: Session) -> None:
    with pytest.raises(ConflictError):
        choose(place, print_key=None)
    choose(place)
    with pytest.raises(ConflictError):
        choose(place)


def test_everybody_reads_the_editions_of_their_own_sites(place: Session) -> None:
    for person, sites, may in (
        (TECHNICIAN, [SITE], False),
        (LEAD, [SITE], True),
        (OWNER, [SITE], True),
        (STRANGER, [OTHER_SITE], True),
        (OFF_SITE_LEAD, [], True),
    ):
        found = site_editions(place, person_id=person.id)
        assert [one.site_name for one in found] == sites
        assert all(one.may_choose == may for one in found)
