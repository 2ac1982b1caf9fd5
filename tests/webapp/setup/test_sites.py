"""The pages of owners and sites, read as a person reads them."""

from collections.abc import Callable

import pytest

from tests.scenario import LEAD, OWNER_FIRM, SITE, TECHNICIAN, ZONE, fixed_id
from tests.webapp.desk import Desk, Visitor

NEW = "/setup/sites/new"


@pytest.fixture
def lead(desk_at: Callable[[str], Desk]) -> Visitor:
    """The lead, at a place with one site."""
    return desk_at("place").person(LEAD)


def test_a_site_and_its_new_owner_are_entered_on_one_page(lead: Visitor) -> None:
    page = lead.get(NEW)
    assert page.chosen["zone"] == ZONE  # that of the sites that are there
    answer = lead.post(
        NEW,
        owner="new",
        owner_name="Dune Water",
        name="Dune pumping station",
        zone="Europe/Lisbon",
    )
    shown = lead.follow(answer)
    assert shown.headline == "Dune pumping station"
    assert "No lineup yet." in shown.text
    assert "Dune Water" in lead.get("/setup/owners").text


def test_what_is_wrong_stands_at_its_field_and_what_was_typed_stays(
    lead: Visitor,
) -> None:
    page = lead.faulty(NEW, owner="new", owner_name="", name="Dune", zone="")
    assert set(page.faults) == {"owner_name"}
    assert page.fields["name"] == "Dune"
    page = lead.faulty(NEW, owner=str(fixed_id(OWNER_FIRM)), name=SITE, zone="")
    assert set(page.faults) == {"name", "zone"}
    assert "Dune" not in lead.get("/setup/sites").text


def test_site_and_owner_are_changed(lead: Visitor) -> None:
    path = f"/setup/sites/{fixed_id(SITE)}/change"
    assert lead.get(path).fields["name"] == SITE
    assert set(lead.faulty(path, name="", zone=ZONE).faults) == {"name"}
    shown = lead.follow(lead.post(path, name="Marram works", zone=ZONE))
    assert shown.headline == "Marram works"
    assert '<option selected value="to_20">' in lead.get(path).html
    lead.post(path, name=SITE, zone=ZONE, contact_correction="as_read")
    assert '<option selected value="as_read">' in lead.get(path).html
    path = f"/setup/owners/{fixed_id(OWNER_FIRM)}"
    assert set(lead.faulty(path, name="").faults) == {"name"}
    shown = lead.follow(lead.post(path, name="Marram Trust"))
    assert "Marram Trust" in shown.text


def test_lists_say_what_belongs_there(lead: Visitor) -> None:
    assert "No site is like that." in lead.get("/setup/sites?words=elephant").text
    assert "No owner is like that." in lead.get("/setup/owners?words=elephant").text
    assert "This list ends before" in lead.get("/setup/sites?page=9").text
    assert "This list ends before" in lead.get("/setup/owners?page=9").text


def test_a_technician_sets_nothing_up(desk_at: Callable[[str], Desk]) -> None:
    technician = desk_at("place").person(TECHNICIAN)
    for path in ("/setup/sites", NEW, "/setup/owners", "/setup/owners/new"):
        assert technician.get(path).status == 403, path
