"""The pages of given criteria: read by all, entered, changed, withdrawn by a lead."""

from collections.abc import Callable
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.schema import GivenCriterion
from tests.giving import change, give, withdraw
from tests.scenario import (
    CR,
    LEAD,
    OWNER,
    STRANGER,
    TECHNICIAN,
    Cast,
    fixed_id,
    lineup_id,
)
from tests.webapp.desk import Desk, Page, Visitor
from tests.webapp.pdf.outside import page_texts

DeskAt = Callable[[str], Desk]
LIST = f"/turnover/lineups/{lineup_id()}/criteria"
NEW = f"{LIST}/new"
TYPED = {
    "standing": "project",
    "quantity": "contact_limit",
    "scope": "kind:breaker",
    "value": "35",
    "unit": "uOhm",
    "document": "Project specification PS-7",
    "edition": "revision C",
    "clause": "clause 6.2",
    "reason": "The project asks for it.",
}


def stored(desk: Desk) -> int:
    with desk.work() as work:
        return work.session.scalars(
            select(func.count()).select_from(GivenCriterion)
        ).one()


def given(desk: Desk, **wording: Any) -> str:
    """Give a criterion by hand and return its page's address."""
    with desk.work() as work:
        return f"/turnover/criteria/{give(work.session, at=work.tick(), **wording)}"


def look(visitor: Visitor, path: str, **typed: str) -> Page:
    """Submit a form and read what it would do."""
    page = Page(visitor.post(path, **typed))
    assert page.status == 200, page.faults
    return page


def store(visitor: Visitor, path: str, seen: Page, **more: str) -> Page:
    """Confirm what was looked at, with nothing but what the page carries."""
    answer = visitor.client.post(path, data=seen.fields | {"step": "store"} | more)
    return visitor.follow(answer)


@pytest.mark.parametrize("who", [LEAD, TECHNICIAN, OWNER], ids=lambda who: who.role)
def test_without_any_it_says_what_they_are(desk_at: DeskAt, who: Cast) -> None:
    page = desk_at("opened").person(who).get(LIST)
    assert "Nothing is given for this lineup." in page.text
    assert (NEW in page.links) is (who is LEAD)


def test_the_lineups_are_listed(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    assert "none given" in desk.person(OWNER).get("/turnover/criteria").text
    given(desk)
    page = desk.person(TECHNICIAN).get("/turnover/criteria")
    assert "1 in force" in page.text and LIST in page.links
    assert LIST not in desk.person(STRANGER).get("/turnover/criteria").links


def test_it_is_looked_at_before_it_is_stored(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    lead = desk.person(LEAD)
    seen = look(lead, NEW, **TYPED)
    assert "Not stored yet." in seen.text
    assert "at most 60.00 µΩ" in seen.text and "at most 35.00 µΩ" in seen.text
    assert stored(desk) == 0
    page = store(lead, NEW, seen)
    assert "Entered." in page.text
    assert "version 1 holds" in page.text
    assert "Project specification PS-7 (revision C), clause 6.2" in page.text
    assert stored(desk) == 1
    assert "35 µΩ" in lead.get(LIST).text


def test_who_goes_back_finds_what_was_typed(desk_at: DeskAt) -> None:
    lead = desk_at("opened").person(LEAD)
    seen = look(lead, NEW, **TYPED)
    page = Page(lead.client.post(NEW, data=seen.fields | {"step": "edit"}))
    assert page.status == 200
    kept = page.fields | page.chosen
    assert {name: kept[name] for name in TYPED} == TYPED


FAULTS: dict[str, tuple[dict[str, str], set[str]]] = {
    "nothing": (
        dict.fromkeys(TYPED, ""),
        {"standing", "quantity", "scope", "document", "reason"},
    ),
    "nothing but what": (
        dict.fromkeys(TYPED, "") | {"quantity": "contact_limit"},
        {"standing", "scope", "value", "unit", "document", "reason"},
    ),
    "a comma": ({"value": "3,5"}, {"value"}),
    "a unit that does not fit": ({"unit": "kV"}, {"unit"}),
    "a scope of another lineup": (
        {"scope": f"apparatus:{fixed_id('Saltern crusher house breaker 52')}"},
        {"scope"},
    ),
    "a scope of no sort": ({"scope": "apparatus:nonsense"}, {"scope"}),
    "what is not tested so": ({"scope": "kind:relay"}, {"scope"}),
}


@pytest.mark.parametrize(("typed", "places"), FAULTS.values(), ids=FAULTS)
@pytest.mark.parametrize("step", ["look", "store"])
def test_what_is_wrong_is_said_there_and_what_was_typed_is_kept(
    desk_at: DeskAt, typed: dict[str, str], places: set[str], step: str
) -> None:
    desk = desk_at("opened")
    page = desk.person(LEAD).faulty(NEW, **{**TYPED, **typed, "step": step})
    assert set(page.faults) == places
    for name in ("document", "reason", "value"):
        assert page.fields[name] == (TYPED | typed)[name]
    assert stored(desk) == 0


def test_a_new_version_takes_the_place_of_the_last(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    path = given(desk)
    lead = desk.person(LEAD)
    asked = lead.get(f"{path}/change")
    assert (asked.fields["value"], asked.fields["seen"]) == ("35", "1")
    assert asked.fields["reason"] == ""
    typed = {**asked.fields, **asked.chosen, "value": "33", "reason": "Amendment 1."}
    seen = look(lead, f"{path}/change", **typed)
    page = store(lead, f"{path}/change", seen)
    assert "version 2 holds" in page.text
    assert "Amendment 1." in page.text and "35 µΩ" in page.text


def test_who_looked_at_an_older_version_is_told(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    path = given(desk)
    lead = desk.person(LEAD)
    seen = look(lead, f"{path}/change", **TYPED | {"value": "33", "seen": "1"})
    with desk.work() as work:
        change(work.session, UUID(path.rsplit("/", 1)[1]), text="34")
    answer = lead.client.post(f"{path}/change", data=seen.fields | {"step": "store"})
    assert answer.status_code == 409
    assert "Version 2 has been entered since" in answer.get_data(as_text=True)
    assert stored(desk) == 2


@pytest.mark.parametrize("seen", ["", "x", "²", "-1", "1e3", "1" * 5000])
def test_a_version_that_is_none_is_a_conflict(desk_at: DeskAt, seen: str) -> None:
    desk = desk_at("opened")
    path = given(desk)
    answer = desk.person(LEAD).post(f"{path}/withdraw", **TYPED | {"seen": seen})
    assert answer.status_code == 409


def test_it_is_withdrawn_with_document_and_reason(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    path = given(desk)
    lead = desk.person(LEAD)
    page = lead.faulty(f"{path}/withdraw", seen="1", document="", reason="")
    assert set(page.faults) == {"document", "reason"}
    typed = {"seen": "1", "document": "Letter L-9", "reason": "Dropped."}
    seen = look(lead, f"{path}/withdraw", **typed)
    assert "at most 60.00 µΩ" in seen.text
    page = store(lead, f"{path}/withdraw", seen)
    assert "Withdrawn by" in " ".join(page.text.split()) and "Letter L-9" in page.text
    assert f"{path}/change" not in page.links
    assert "Withdrawn" in lead.get(LIST).text


def test_it_says_where_another_goes_before_it(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    given(desk)
    typed = TYPED | {"standing": "maker", "value": "40", "document": "Book IB-31"}
    page = look(desk.person(LEAD), NEW, **typed)
    assert "set aside: Project specification PS-7 goes before it" in page.text


@pytest.mark.parametrize("who", [TECHNICIAN, OWNER], ids=lambda who: who.role)
def test_others_read_and_change_nothing(desk_at: DeskAt, who: Cast) -> None:
    desk = desk_at("opened")
    path = given(desk)
    visitor = desk.person(who)
    page = visitor.get(path)
    assert "Project specification PS-7" in page.text
    assert f"{path}/change" not in page.links
    for address in (NEW, f"{path}/change", f"{path}/withdraw"):
        asked = visitor.get(address)
        assert "You can read them." in asked.text
        assert "document" not in asked.fields
        token = page.fields["csrf_token"]
        typed = TYPED | {"csrf_token": token, "step": "store", "seen": "1"}
        answer = visitor.client.post(address, data=typed)
        assert answer.status_code == 403, address
    assert stored(desk) == 1


def test_what_is_not_there_is_not_found(desk_at: DeskAt) -> None:
    lead = desk_at("opened").person(LEAD)
    assert lead.get(f"/turnover/criteria/{uuid4()}").status == 404


def test_a_round_under_way_is_shown_with_the_version_that_it_carries(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("opened")
    page = desk.person(LEAD).get(given(desk))
    assert f"/turnover/judge-again/lineup/{lineup_id()}" in page.links
    text = " ".join(page.text.split())
    assert "1 card decided without it" in text
    assert "1 card carries another version than holds today." in text
    assert "never changes by itself" in text


@pytest.fixture
def decided(desk_at: DeskAt) -> tuple[Desk, UUID]:
    """A round with a reading that a project's criterion decided."""
    desk = desk_at("place")
    with Session(desk.app.extensions["engine"]) as session:
        key = give(session)
        session.commit()
    lead = desk.person(LEAD)
    plan = lead.post(
        "/turnover/rounds",
        on="/turnover/",
        lineup=str(lineup_id()),
        kind="acceptance",
        programme="Acceptance, any gear",
    ).headers["Location"]
    lead.post(f"{plan}/open", on=plan)
    with desk.work() as work:
        work.confirm("breaker 52", CR)
        work.read("breaker 52", CR, "34.0", "34.5", "36.0")
    return desk, key


def test_a_verdict_leads_to_the_criterion_that_decided_it(
    decided: tuple[Desk, UUID],
) -> None:
    desk, key = decided
    with desk.work() as work:
        card = f"/turnover/cards/{work.card('breaker 52', CR).id}"
    page = desk.person(TECHNICIAN).get(card)
    assert f"/turnover/criteria/{key}" in page.links
    assert "goes before the maker's 60 µΩ on the nameplate" in page.text


@pytest.mark.needs("poppler")
def test_the_package_names_it(decided: tuple[Desk, UUID], tmp_path: Path) -> None:
    desk, _ = decided
    with desk.work() as work:
        path = f"/turnover/rounds/{work.round_id}/draft.pdf"
    pdf = desk.person(LEAD).client.get(path).data
    text = " ".join(" ".join(page_texts(pdf, tmp_path)).split())
    assert (
        "Project specification PS-7 (revision C), clause 6.2, entered as version 1, "
        "goes before the maker's 60 µΩ on the nameplate; project specification"
    ) in text


def test_all_of_the_history_is_there_after_it_was_withdrawn(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    path = given(desk)
    key = UUID(path.rsplit("/", 1)[1])
    with desk.work() as work:
        change(work.session, key, text="33")
        withdraw(work.session, key, seen=2)
    text = " ".join(desk.person(OWNER).get(path).text.split())
    for words in ("3 · withdrawn", "33 µΩ", "35 µΩ", "Letter L-9"):
        assert words in text
