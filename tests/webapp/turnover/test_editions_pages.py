"""Editions in use and judging again, as a lead and an owner's engineer use them."""

import csv
from collections.abc import Callable
from io import StringIO

import pytest

from models.schema import Lineup
from models.signing.verification import verify_package
from tests.models.services.criteria.test_rejudge import choose_eighty, faults
from tests.scenario import (
    DW,
    LEAD,
    OWNER,
    SITE,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)
from tests.webapp.desk import Desk, Page
from webapp.package_files import make_signed

EDITIONS = "/turnover/editions"
MINIMUM = "insulation_minimum"
TABLE = f"/turnover/sites/{fixed_id(SITE)}/editions/{MINIMUM}"
AGAIN = "/turnover/judge-again"
LOOK = f"{AGAIN}/lineup/{lineup_id()}"
CHOICE = {
    "print_key": f"{MINIMUM}_older",
    "where": "site",
    "document": "Specification MH-12",
    "reason": "the contract names the older print",
}


@pytest.fixture
def complete_desk(desk_at: Callable[[str], Desk]) -> Desk:
    """A complete round, before its turnover."""
    return desk_at("complete")


@pytest.fixture
def chosen(complete_desk: Desk) -> Desk:
    """The same, after another edition was chosen."""
    with complete_desk.work() as work:
        choose_eighty(work)
    return complete_desk


def verdicts(desk: Desk) -> set[str]:
    with desk.work() as work:
        return set(work.verdicts("bus", DW).values())


def test_an_edition_is_chosen(complete_desk: Desk) -> None:
    lead = complete_desk.person(LEAD)
    assert TABLE in lead.get(EDITIONS).links
    assert EDITIONS in lead.get("/turnover/").links
    assert lead.get(TABLE).chosen["print_key"] == MINIMUM
    page = lead.follow(lead.post(TABLE, **CHOICE))
    assert "verdicts already given stay" in page.text
    assert page.chosen["print_key"] == f"{MINIMUM}_older"
    assert "the contract names the older print" in page.text
    assert "for this site" in lead.get(EDITIONS).text
    assert verdicts(complete_desk) == {"within"}


def test_what_was_typed_is_kept_beside_what_is_wrong(complete_desk: Desk) -> None:
    lead = complete_desk.person(LEAD)
    page = lead.faulty(TABLE, **CHOICE | {"reason": " "})
    assert "reason" in page.faults
    assert page.fields["document"] == "Specification MH-12"
    assert page.chosen["print_key"] == f"{MINIMUM}_older"


def test_a_form_without_an_edition_ends_no_choice(complete_desk: Desk) -> None:
    lead = complete_desk.person(LEAD)
    lead.follow(lead.post(TABLE, **CHOICE))
    said = {name: value for name, value in CHOICE.items() if name != "print_key"}
    page = lead.faulty(TABLE, **said)
    assert "Choose the edition" in page.faults["print_key"]
    assert page.fields["document"] == "Specification MH-12"
    assert lead.get(TABLE).chosen["print_key"] == f"{MINIMUM}_older"
    page = lead.follow(lead.post(TABLE, **said, print_key=""))
    assert page.chosen["print_key"] == MINIMUM


def test_why_a_print_may_not_be_used_is_said(complete_desk: Desk) -> None:
    page = complete_desk.person(LEAD).get(
        f"/turnover/sites/{fixed_id(SITE)}/editions/insulation_correction_20"
    )
    assert "Its values belong to 40 °C, not to 20 °C." in page.text
    wanted = f"/turnover/sites/{fixed_id(SITE)}/editions/arc_types"
    assert complete_desk.person(LEAD).get(wanted).status == 404


@pytest.mark.parametrize("key", ["contact_test_current", "withstand_field_fraction"])
def test_another_standard_is_no_edition(complete_desk: Desk, key: str) -> None:
    lead = complete_desk.person(LEAD)
    table = f"/turnover/sites/{fixed_id(SITE)}/editions/{key}"
    assert "It is what another standard asks (IEC 62271-" in lead.get(table).text
    page = lead.faulty(table, **CHOICE | {"print_key": f"{key}_iec"})
    assert "print_key" in page.faults


def test_a_technician_reads_only(chosen: Desk) -> None:
    technician = chosen.person(TECHNICIAN)
    assert "nothing for you to choose" in technician.get(TABLE).text
    assert AGAIN not in technician.get(EDITIONS).links
    assert technician.get(LOOK).status == 403
    assert technician.post(TABLE, on="/account/password", **CHOICE).status_code == 403


def test_the_preview_shows_and_stores_nothing(chosen: Desk) -> None:
    lead = chosen.person(LEAD)
    assert LOOK in lead.get(AGAIN).links
    page = lead.get(LOOK)
    assert page.headline == "6 verdicts would change"
    assert "Nothing is stored yet." in page.text
    assert "holds 28.8 kV" in page.text
    assert page.fields["digest"]
    assert verdicts(chosen) == {"within"}


def test_all_changes_are_had_as_a_file(chosen: Desk) -> None:
    answer = chosen.person(LEAD).client.get(f"{LOOK}/changes.csv")
    rows = list(csv.DictReader(StringIO(answer.get_data(as_text=True))))
    assert len(rows) == 6
    assert {row["verdict_then"] for row in rows} == {"unjudged"}
    assert all("28.8 kV" in row["asked_then"] for row in rows)


def test_no_cell_of_the_file_is_a_formula(chosen: Desk) -> None:
    with chosen.work() as work:
        work.session.get_one(Lineup, lineup_id()).name = "=1+1"
    answer = chosen.person(LEAD).client.get(f"{LOOK}/changes.csv")
    rows = list(csv.DictReader(StringIO(answer.get_data(as_text=True))))
    assert {row["lineup"] for row in rows} == {"'=1+1"}


def confirmed_page(desk: Desk, by: Cast, look: str = LOOK, **given: str) -> Page:
    visitor = desk.person(by)
    digest = visitor.get(look).fields["digest"]
    said = {"digest": digest, "reason": "as the contract says"} | given
    return visitor.follow(visitor.post(look, **said))


def test_a_confirmation_stores_what_was_shown(chosen: Desk) -> None:
    page = confirmed_page(chosen, LEAD)
    assert "as the contract says" in page.text
    assert "6 of" in page.text
    assert verdicts(chosen) == {"unjudged"}
    with chosen.work() as work:
        assert faults(work) == []
        card = work.card("bus", DW).id
    shown = chosen.person(LEAD).get(f"/turnover/cards/{card}")
    assert "Judged again" in shown.text
    assert "was within" in shown.text
    assert chosen.person(LEAD).get(LOOK).headline == "Nothing would change"


def test_without_a_reason_nothing_is_stored(chosen: Desk) -> None:
    lead = chosen.person(LEAD)
    digest = lead.get(LOOK).fields["digest"]
    page = lead.faulty(LOOK, digest=digest, reason="")
    assert "reason" in page.faults
    assert verdicts(chosen) == {"within"}


def test_a_stale_preview_is_shown_again(chosen: Desk) -> None:
    lead = chosen.person(LEAD)
    digest = lead.get(LOOK).fields["digest"]
    with chosen.work() as work:
        choose_eighty(work, print_key=None)
        choose_eighty(
            work,
            table_key="insulation_minimum",
            print_key="insulation_minimum_older",
        )
    page = Page(lead.post(LOOK, digest=digest, reason="typed before"))
    assert page.status == 409
    assert "look at it again" in page.text
    assert page.fields["reason"] == "typed before"
    assert page.fields["digest"] != digest
    assert verdicts(chosen) == {"within"}


def test_an_unknown_scope_is_not_found(chosen: Desk) -> None:
    lead = chosen.person(LEAD)
    assert lead.get(f"{AGAIN}/firm/{lineup_id()}").status == 404
    assert lead.get(f"{AGAIN}/site/{lineup_id()}").status == 404


def test_the_owner_judges_what_was_turned_over(
    desk_at: Callable[[str], Desk],
) -> None:
    desk = desk_at("accepted")
    with desk.work() as work:
        choose_eighty(work, by=OWNER, for_owner=True)
    page = confirmed_page(desk, OWNER, f"{AGAIN}/site/{fixed_id(SITE)}")
    assert "Judged again" in page.text
    with desk.work() as work:
        card = work.card("bus", DW).id
        assert faults(work) == []
    owner = desk.person(OWNER)
    shown = owner.get(f"/turnover/cards/{card}")
    assert "Judged again after turnover" in shown.text
    assert "was within at turnover" in shown.text
    book = owner.get(f"/owner/lineups/{lineup_id()}")
    assert "judged again" in book.text
    with desk.work() as work:
        point = work.card("bus", DW).points[0].id
    trend = owner.get(f"/owner/points/{point}")
    assert "judged again" in trend.text
    assert "unjudged" in trend.text.lower()


def test_a_package_of_a_round_judged_again_verifies(
    desk_at: Callable[[str], Desk],
) -> None:
    """The signed card says the verdict of then; the package shows both."""

    desk = desk_at("complete")
    with desk.work() as work:
        choose_eighty(work)
    confirmed_page(desk, LEAD)
    with desk.work() as work:
        settle(work)
        pdf = work.turn_over(make_signed, accept=False)
    found = verify_package(pdf)
    assert found.faults == []
    assert found.record is not None
    (reading, *_) = (
        reading
        for card in found.record["cards"]
        for reading in card["readings"]
        if "judged_before" in reading
    )
    (before,) = reading["judged_before"]
    assert before["judgement"]["verdict"] == "within"
    assert before["reason"] == "as the contract says"


def settle(work: Work) -> None:
    for line in work.gate().still:
        for item in line.items:
            if item.target_kind == "reading":
                work.dispose(item.target_id)
