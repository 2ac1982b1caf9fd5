"""Disposing of readings, handing cards back, closing deficiencies."""

import re
from typing import Any

import pytest

from tests.scenario import (
    CR,
    LEAD,
    OFF_SITE_LEAD,
    OTHER_LEAD,
    OWNER,
    PASSWORD,
    STRANGER,
    TECHNICIAN,
    Cast,
)
from tests.webapp.desk import Desk
from tests.webapp.turnover.troubled import Troubled

WORDS = "the other poles are clear of it"


def path_to(made: Troubled, what: str) -> str:
    return {
        "dispose": f"/turnover/readings/{made.outside}/dispose",
        "dispose own": f"/turnover/readings/{made.own}/dispose",
        "return": f"/turnover/cards/{made.signed_card}/return",
        "withdraw": f"/turnover/cards/{made.untouched_card}/withdraw",
        "close": f"/turnover/deficiencies/{made.deficiency}",
        "close loose": f"/turnover/deficiencies/{made.loose}",
        "card": f"/turnover/cards/{made.open_card}",
        "gate": f"/turnover/rounds/{made.round_id}",
        "cards": f"/turnover/rounds/{made.round_id}/cards",
        "package": f"/turnover/rounds/{made.round_id}/package",
    }[what]


FAULTS: dict[str, tuple[str, dict[str, str], set[str]]] = {
    "disposing without a decision": ("dispose", {"reason": WORDS}, {"decision"}),
    "disposing without a reason": (
        "dispose",
        {"decision": "use_as_is", "reason": "  "},
        {"reason"},
    ),
    "disposing with neither": ("dispose", {}, {"decision", "reason"}),
    "an unknown decision": (
        "dispose",
        {"decision": "burn_it", "reason": WORDS},
        {"decision"},
    ),
    "handing back without a reason": ("return", {"reason": ""}, {"reason"}),
    "withdrawing without a reason": ("withdraw", {"reason": "\n"}, {"reason"}),
    "closing without words": ("close loose", {"text": " "}, {"text"}),
}


@pytest.mark.parametrize(("what", "typed", "places"), FAULTS.values(), ids=FAULTS)
def test_what_is_wrong_is_said_there_and_what_was_typed_is_kept(
    desk: Desk, troubled: Troubled, what: str, typed: dict[str, str], places: set[str]
) -> None:
    page = desk.person(LEAD).faulty(path_to(troubled, what), **typed)
    assert set(page.faults) == places
    kept = page.fields | page.chosen
    for name, value in typed.items():
        if value.strip() and value != "burn_it":
            assert kept[name] == value


def test_a_decision_is_recorded_and_the_line_goes(
    desk: Desk, troubled: Troubled
) -> None:
    lead = desk.person(LEAD)
    typed = {"decision": "use_as_is", "reason": WORDS, "password": PASSWORD}
    page = lead.follow(lead.post(path_to(troubled, "dispose"), **typed))
    assert "1 reading outside without a disposition" in page.text
    assert "1 decision that waits for a second person to agree" in page.text
    card = lead.get(path_to(troubled, "card"))
    assert WORDS in card.text
    assert LEAD.name in card.text


def test_nobody_disposes_of_a_reading_that_they_took(
    desk: Desk, troubled: Troubled
) -> None:
    path = path_to(troubled, "dispose own")
    lead = desk.person(LEAD)
    assert "You took this reading yourself" in lead.get(path).text
    typed = {"decision": "use_as_is", "reason": WORDS, "password": PASSWORD}
    assert lead.post(path, **typed).status_code == 409
    other = desk.person(OTHER_LEAD)
    assert other.post(path, **typed).status_code == 303


ACTS: dict[str, dict[str, Any]] = {
    "dispose": {"decision": "use_as_is", "reason": WORDS},
    "return": {"reason": WORDS},
    "withdraw": {"reason": WORDS},
}


@pytest.mark.parametrize("what", ACTS)
def test_a_technician_looks_but_does_not_decide(
    desk: Desk, troubled: Troubled, what: str
) -> None:
    path = path_to(troubled, what)
    technician = desk.person(TECHNICIAN)
    assert technician.get(path).status == 200
    assert technician.post(path, **ACTS[what]).status_code == 403


@pytest.mark.parametrize("who", [OFF_SITE_LEAD, STRANGER, OWNER], ids=lambda c: c.name)
@pytest.mark.parametrize(
    "what", ["gate", "cards", "card", "dispose", "return", "close", "package"]
)
def test_a_round_under_way_is_not_there_for_others(
    desk: Desk, troubled: Troubled, who: Cast, what: str
) -> None:
    assert desk.person(who).get(path_to(troubled, what)).status == 404


def test_a_card_is_handed_back(desk: Desk, troubled: Troubled) -> None:
    lead = desk.person(LEAD)
    path = path_to(troubled, "return")
    page = lead.follow(lead.post(path, reason="measure pole B again"))
    assert "measure pole B again" in page.text
    assert "Signed, then handed back" in page.text
    assert lead.post(path, reason="and again").status_code == 409


def test_a_card_is_withdrawn(desk: Desk, troubled: Troubled) -> None:
    lead = desk.person(LEAD)
    path = path_to(troubled, "withdraw")
    page = lead.follow(lead.post(path, reason="the maker did it at the works"))
    assert "Withdrawn by" in " ".join(page.text.split())
    assert "the maker did it at the works" in page.text


def test_a_deficiency_without_a_retest_cannot_be_closed_yet(
    desk: Desk, troubled: Troubled
) -> None:
    lead = desk.person(LEAD)
    path = path_to(troubled, "close")
    assert "has not been measured again yet" in lead.get(path).text
    page = lead.faulty(path, text="cluster re-seated")
    assert "Choose the retest" in page.text
    assert page.fields["text"] == "cluster re-seated"


def test_a_deficiency_is_closed_by_a_retest_that_is_within(
    desk: Desk, troubled: Troubled
) -> None:
    with desk.work() as work:
        retest = work.again("breaker 52", CR, troubled.outside, "39.1")
    lead = desk.person(LEAD)
    path = path_to(troubled, "close")
    page = lead.follow(lead.post(path, reading_id=str(retest), text="re-seated"))
    assert "re-seated" in page.text
    assert "Closed by pole C" in page.text
    gate = lead.get(path_to(troubled, "gate"))
    assert "open deficiency that stops" not in gate.text


def test_a_retest_that_is_outside_closes_nothing(
    desk: Desk, troubled: Troubled
) -> None:
    with desk.work() as work:
        retest = work.again("breaker 52", CR, troubled.outside, "71.3")
    page = desk.person(LEAD).faulty(
        path_to(troubled, "close"), reading_id=str(retest), text="re-seated"
    )
    assert "outside" in page.faults["reading_id"]
    assert page.chosen["reading_id"] == str(retest)


def test_a_card_shows_every_reading_with_its_working(
    desk: Desk, troubled: Troubled
) -> None:
    with desk.work() as work:
        work.again("breaker 52", CR, troubled.outside, "39.1", reason="re-seated")
    text = desk.person(LEAD).get(path_to(troubled, "card")).text
    for words in ("61.7 µΩ", "39.1 µΩ", "superseded", "re-seated", "D-001"):
        assert words in text
    assert "(234.5 + 20) / (234.5 + 20)" in text


def test_a_card_says_its_lines_of_safety_with_names_and_times(
    desk: Desk, troubled: Troubled
) -> None:
    page = desk.person(LEAD).get(path_to(troubled, "card"))
    (before,) = re.findall(r"Safety: (\d+) lines before the readings", page.text)
    # The day at the site, not in UTC.
    said = f"confirmed {TECHNICIAN.name}, 3 Mar 2026"
    assert page.text.count(said) >= int(before) > 0


def test_several_readings_are_decided_on_at_once_all_or_none(
    desk: Desk, troubled: Troubled
) -> None:
    lead = desk.person(OTHER_LEAD)
    path = f"/turnover/rounds/{troubled.round_id}/dispose/outside"
    page = lead.get(path)
    waiting = [str(troubled.outside), str(troubled.own)]
    assert page.headline == "2 readings outside, without a disposition"
    assert all(f'value="{key}" checked' in page.html for key in waiting)
    typed = {"decision": "use_as_is", "reason": WORDS, "password": PASSWORD}
    refused = lead.post(path, **typed)
    assert refused.status_code == 422
    assert "Choose at least one reading" in refused.text
    none_of_these = [*waiting, str(troubled.open_card)]
    assert lead.post(path, **typed, reading=none_of_these).status_code == 404
    assert lead.get(path).headline == page.headline
    done = lead.follow(lead.post(path, **typed, reading=waiting))
    assert "The decision on 2 readings is recorded." in done.text
    assert "No reading outside waits" in lead.get(path).text


def test_one_s_own_reading_cannot_be_among_several(
    desk: Desk, troubled: Troubled
) -> None:
    lead = desk.person(LEAD)
    path = f"/turnover/rounds/{troubled.round_id}/dispose/outside"
    assert f'value="{troubled.own}" disabled' in lead.get(path).html
    typed = {"decision": "use_as_is", "reason": WORDS, "password": PASSWORD}
    both = [str(troubled.outside), str(troubled.own)]
    assert lead.post(path, **typed, reading=both).status_code == 409
    assert lead.get(path).headline == "2 readings outside, without a disposition"
