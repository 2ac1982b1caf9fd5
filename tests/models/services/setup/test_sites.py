"""Owners and sites: who may set them up, what is refused, what the log says."""

import json
from datetime import timedelta
from typing import Any

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ForbiddenError, InputError, NotFoundError
from models.schema import Lineup, LogEntry
from models.services.criteria.rules_in_force import RulesInForce
from models.services.setup import owners, sites
from models.services.setup.site_lineups import site_lineups
from models.services.setup.zones import zones
from tests.scenario import (
    BEGAN,
    CR,
    LEAD,
    OFF_SITE_LEAD,
    OTHER_OWNER,
    OWNER,
    OWNER_FIRM,
    SITE,
    TECHNICIAN,
    TEST_FIRM,
    ZONE,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)

AT = BEGAN + timedelta(days=90)
NEW = fixed_id("a new site")


def enter(session: Session, by: Cast = LEAD, **given: Any) -> None:
    """Add a site as *by*, with what is given in the place of what is right."""
    said = {
        "site_id": NEW,
        "owner_id": fixed_id(OWNER_FIRM),
        "name": "Dune pumping station",
        "address": "",
        "zone": "Europe/Lisbon",
    }
    sites.enter_site(session, person_id=by.id, now=AT, **(said | given))


def last_entry(session: Session) -> LogEntry:
    """Return the newest entry of the log."""
    entries = select(LogEntry).order_by(LogEntry.seq.desc())
    return session.scalars(entries.limit(1)).one()


BAD_SITES: dict[str, tuple[dict[str, Any], str, str]] = {
    "without a name": ({"name": "  "}, "name", "Write the name of the site."),
    "a name that the owner has": (
        {"name": SITE},
        "name",
        f"This owner has a site '{SITE}' already.",
    ),
    "a zone that is none": (
        {"zone": "Lisbon"},
        "zone",
        "Choose the time zone that the site's clocks show.",
    ),
    "an owner that is none": (
        {"owner_id": fixed_id("nobody")},
        "owner",
        "Choose the owner of the site.",
    ),
    "an owner that is a test firm": (
        {"owner_id": fixed_id("Fathom Line Testing")},
        "owner",
        "Choose the owner of the site.",
    ),
    "an address that no database keeps": (
        {"address": "a\0b"},
        "address",
        "Keep it under 4000 plain characters.",
    ),
}


@pytest.mark.any_database
@pytest.mark.parametrize(("given", "field", "said"), BAD_SITES.values(), ids=BAD_SITES)
def test_a_site_that_cannot_be_is_refused_at_its_field(
    place: Session, given: dict[str, Any], field: str, said: str
) -> None:
    with pytest.raises(InputError) as caught:
        enter(place, **given)
    assert [(f.field, f.message) for f in caught.value.faults] == [(field, said)]


def test_who_adds_a_site_is_assigned_to_it_and_the_log_says_so(place: Session) -> None:
    enter(place, OFF_SITE_LEAD)
    (found,) = sites.list_sites(place, person_id=OFF_SITE_LEAD.id).rows
    assert (found.id, found.state, found.lineups) == (NEW, "bare", 0)
    assert found.owner_name == OWNER_FIRM
    actions = place.scalars(select(LogEntry.action).order_by(LogEntry.seq)).all()
    assert "add site" in actions[-2:]


def test_a_change_is_logged_with_old_and_new_value(place: Session) -> None:
    said = {"name": "Marram works", "address": "Strand Road", "zone": ZONE}
    ids = {"person_id": LEAD.id, "site_id": fixed_id(SITE), "now": AT}
    assert sites.change_site(place, **ids, **said)
    entry = last_entry(place)
    assert (entry.action, entry.actor_id) == ("change site", LEAD.id)
    assert json.loads(entry.body) == {"name": {"old": SITE, "new": "Marram works"}}
    assert not sites.change_site(place, **ids, **said)
    assert last_entry(place).seq == entry.seq


def test_a_site_may_compare_contact_resistance_as_it_was_read(place: Session) -> None:
    """Rules that are compiled from now on correct nothing."""
    said = {"name": SITE, "address": "", "zone": ZONE}
    ids = {"person_id": LEAD.id, "site_id": fixed_id(SITE), "now": AT}
    lineup = place.get_one(Lineup, lineup_id())
    fitted = [one for cell in lineup.cells for one in cell.apparatus]
    breaker = next(one for one in fitted if one.label == "breaker 52")

    def corrected_by() -> str:
        rules = RulesInForce(place, lineup, fixed_id(TEST_FIRM))
        return str(rules.rule(breaker, CR)["correction"]["by"])

    assert corrected_by() == "metal"
    with pytest.raises(InputError, match="Choose how contact resistance is compared"):
        sites.change_site(place, **ids, **said, contact_correction="cold")
    assert sites.change_site(place, **ids, **said, contact_correction="as_read")
    changed = json.loads(last_entry(place).body)
    assert changed["contact_correction"] == {"old": "to_20", "new": "as_read"}
    assert corrected_by() == "none"


FORBIDDEN = {"a technician": TECHNICIAN, "an owner": OWNER}


@pytest.mark.any_database
@pytest.mark.parametrize("who", FORBIDDEN.values(), ids=FORBIDDEN)
def test_who_does_not_set_up_sees_and_changes_nothing(
    place: Session, who: Cast
) -> None:
    with pytest.raises(ForbiddenError):
        sites.list_sites(place, person_id=who.id)
    with pytest.raises(ForbiddenError):
        enter(place, who)
    with pytest.raises(ForbiddenError):
        owners.list_owners(place, person_id=who.id)


def test_another_leads_site_is_not_there(place: Session) -> None:
    ids = {"person_id": OFF_SITE_LEAD.id, "site_id": fixed_id(SITE)}
    for ask in (sites.site_summary, site_lineups):
        with pytest.raises(NotFoundError):
            ask(place, **ids)
    with pytest.raises(NotFoundError):
        sites.change_site(place, **ids, name="x", address="", zone=ZONE, now=AT)
    with pytest.raises(NotFoundError):
        owners.owner_of(
            place, person_id=OFF_SITE_LEAD.id, owner_id=fixed_id(OWNER_FIRM)
        )


def states(session: Session, **asked: str) -> dict[str, str]:
    """Return the state of each site that the lead finds."""
    found = sites.list_sites(session, person_id=LEAD.id, **asked)
    return {row.name: row.state for row in found.rows}


def test_sites_are_found_by_three_letters_and_what_is_missing_stands_first(
    place: Session,
) -> None:
    enter(place)
    assert list(states(place).items()) == [
        ("Dune pumping station", "bare"),
        (SITE, "waiting"),
    ]
    assert list(states(place, words="mar pum")) == ["Dune pumping station", SITE]
    assert list(states(place, words="dun")) == ["Dune pumping station"]
    assert list(states(place, state="waiting")) == [SITE]


def test_a_site_with_a_round_under_way_says_so(opened: Work) -> None:
    assert states(opened.session) == {SITE: "open"}
    (lineup,) = site_lineups(opened.session, person_id=LEAD.id, site_id=fixed_id(SITE))
    assert (lineup.cells, lineup.apparatus) == (1, 3)
    assert (lineup.rounds, lineup.open_rounds) == (1, 1)


def test_an_owner_is_added_once_and_changed_with_a_trace(place: Session) -> None:
    said = {"name": "Dune Water", "address": "Quay 3"}
    owners.add_owner(
        place, person_id=LEAD.id, owner_id=fixed_id("dune"), now=AT, **said
    )
    with pytest.raises(InputError) as caught:
        owners.add_owner(
            place, person_id=LEAD.id, owner_id=fixed_id("twice"), now=AT, **said
        )
    assert caught.value.faults[0].field == "name"
    with pytest.raises(InputError, match="is there already"):
        owners.change_owner(
            place,
            person_id=LEAD.id,
            owner_id=fixed_id("dune"),
            name=OTHER_OWNER,
            address="",
            now=AT,
        )
    found = owners.list_owners(place, person_id=LEAD.id)
    assert [(row.name, row.sites) for row in found.rows] == [
        ("Dune Water", 0),
        (OWNER_FIRM, 1),
    ]


def test_zones_are_those_of_cities() -> None:
    known = [name for names in zones().values() for name in names]
    assert {"Europe/Lisbon", "America/Halifax", "UTC"} <= set(known)
    assert "Cuba" not in known
    assert len(known) == len(set(known)) > 300
