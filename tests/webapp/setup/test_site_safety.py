"""Whose rules govern on a site and its figures: chosen, changed, logged."""

import json
from collections.abc import Callable

import pytest
from sqlalchemy import select

from models.schema import LogEntry, Site
from models.services.safety.site_settings import rules_said, settings_of
from tests.scenario import LEAD, SITE, TECHNICIAN, fixed_id
from tests.webapp.desk import Desk

PAGE = f"/setup/sites/{fixed_id(SITE)}/safety"
GOOD = {
    "rule_set": "operation_power",
    "rule_set_text": "",
    "shift_hours": "10",
    "idle_minutes": "15",
    "discharge_least_s": "120",
}


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """The application, with a round that is open."""
    return desk_at("opened")


def test_what_holds_is_shown_and_changed_with_old_and_new_value(desk: Desk) -> None:
    visitor = desk.person(LEAD)
    page = visitor.get(PAGE)
    assert (page.fields["shift_hours"], page.fields["idle_minutes"]) == ("14", "30")
    assert "rule_set" not in page.chosen, "nothing is chosen for anybody"
    shown = visitor.follow(visitor.post(PAGE, **GOOD))
    assert "The safety of the site is changed." in shown.text
    assert "Rules that govern: 29 CFR 1910.269" in shown.text
    assert visitor.get(PAGE).chosen["rule_set"] == "operation_power"
    shown = visitor.follow(visitor.post(PAGE, **GOOD))
    assert "Nothing was changed." in shown.text
    with desk.work() as work:
        site = work.session.get_one(Site, fixed_id(SITE))
        held = settings_of(site)
        logged = work.session.scalars(
            select(LogEntry).where(LogEntry.action == "change safety of site")
        ).all()
    assert held["discharge_least_s"] == 120
    assert rules_said(held).startswith("29 CFR 1910.269:")
    (entry,) = (json.loads(one.body) for one in logged)
    assert entry["shift_hours"] == {"old": "14.0", "new": "10.0"}
    assert entry["rule_set"] == {"old": "", "new": "operation_power"}


@pytest.mark.parametrize(
    ("typed", "faulty"),
    [
        ({"rule_set": "nobody's"}, {"rule_set"}),
        ({"rule_set": "other"}, {"rule_set_text"}),
        ({"shift_hours": "long"}, {"shift_hours"}),
        ({"shift_hours": "25", "idle_minutes": "0"}, {"shift_hours", "idle_minutes"}),
        ({"discharge_least_s": "nan"}, {"discharge_least_s"}),
        ({"discharge_least_s": "-1"}, {"discharge_least_s"}),
    ],
    ids=[
        "no such rule set",
        "another country's rules without a name",
        "a shift that is no number",
        "two figures beyond their range",
        "a time that is not a number",
        "a time below zero",
    ],
)
def test_what_is_not_accepted_is_kept_and_said_at_its_field(
    desk: Desk, typed: dict[str, str], faulty: set[str]
) -> None:
    page = desk.person(LEAD).faulty(PAGE, **GOOD | typed)
    assert set(page.faults) == faulty
    for name in typed:
        if name != "rule_set":
            assert page.fields[name] == typed[name]


def test_another_countrys_rules_are_named_in_words(desk: Desk) -> None:
    visitor = desk.person(LEAD)
    name = "New Zealand: safe work around electrical gear"
    typed = GOOD | {"rule_set": "other", "rule_set_text": name}
    visitor.follow(visitor.post(PAGE, **typed))
    with desk.work() as work:
        site = work.session.get_one(Site, fixed_id(SITE))
        assert rules_said(settings_of(site)) == name


def test_who_sets_up_no_site_does_not_change_its_safety(desk: Desk) -> None:
    assert desk.person(TECHNICIAN).get(PAGE).status == 403
