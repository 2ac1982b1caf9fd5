"""Every address there is, by everybody who has no business there."""

from collections.abc import Callable
from uuid import UUID, uuid4

import pytest
from flask import url_for

from models.schema import PlanDraft
from models.services.safety.press_stop import press_stop
from models.services.turnover.inspections import set_inspection_points
from tests.attaching import put_and_withdraw
from tests.giving import give
from tests.scenario import (
    ADMINISTRATOR,
    CR,
    LEAD,
    OFF_SITE,
    OFF_SITE_LEAD,
    OWNER,
    OWNER_FIRM,
    RIVAL,
    SITE,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]
OUTSIDERS = (OFF_SITE, OFF_SITE_LEAD, RIVAL, STRANGER)
OPEN = {
    "account.sign_in",
    "field.service_worker",  # what a tablet holds says nothing of anybody
    "field.program_script",
    "field.program_sheet",
    "field.tablet_page",
    "account.enter",
    "favicon",
    "manifest",
    "icon-192",
    "icon-512",
    "icon-cut-512",
    "people.ask_enrolment",
    "people.enrol",
    "home",
    "start.set_up",  # leads home where there are people
    "start.organisation",
    "start.administrator",
    "start.authority",
    "static",
    "offline_file",
}
# Arguments that name nothing of a site.
NO_THING = {
    "meaning": "performed",
    "filename": "style.css",
    "name": "outbox.js",
    "kind": "lineup",
    "verdict": "outside",
    "instrument_id": fixed_id("no instrument"),  # a firm's, whatever the site
    "calibration_id": fixed_id("no calibration"),
    "subject": "lineup",
    "token": "unknown",
    "form": "xlsx",
    "key": "none",
    "photo_id": fixed_id("no photograph"),
    "person_id": fixed_id("no person"),
    "assignment_id": fixed_id("no assignment"),
    "invitation_id": fixed_id("no invitation"),
    "table_key": "insulation_minimum",
    "tablet_id": fixed_id("no tablet"),  # a firm's, whatever the site
    "act": "revoke",
}
SAFE = {"GET", "HEAD", "OPTIONS"}


@pytest.fixture
def things(desk_at: DeskAt) -> tuple[Desk, dict[str, object]]:
    """A round under way, and what identifies the things on it."""
    desk = desk_at("confirmed")
    with desk.work() as work:
        card = work.card("breaker 52", CR)
        (reading,) = work.read("breaker 52", CR, "61.7")
        found = work.entry(
            card, "deficiency", text="dust", holder="x", severity="may_follow"
        )
        work.store(found)
        ids: dict[str, object] = {
            "round_id": work.round_id,
            "card_id": card.id,
            "point_id": card.points[0].id,
            "reading_id": reading,
            "deficiency_id": found["key"],
            "lineup_id": lineup_id(),
            "thing_id": fixed_id(f"{SITE} breaker 52"),
            "apparatus_id": fixed_id(f"{SITE} breaker 52"),
            "site_id": fixed_id(SITE),
            "owner_id": fixed_id(OWNER_FIRM),
            "subject_id": lineup_id(),
            "performer_id": TECHNICIAN.id,
            "attachment_id": put_and_withdraw(work, "card", card.id),
            "criterion_id": give(work.session, at=work.tick()),
            "plan_id": _plan(work),
            "inspection_id": _inspection_point(work, card.id),
            "stop_id": _stop(work),
        }
    return desk, ids


def _plan(work: Work) -> UUID:
    """Put a plan of the next round there."""
    row = PlanDraft(
        id=fixed_id("a plan"),
        lineup_id=lineup_id(),
        kind="acceptance",
        programme="Acceptance, any gear",
        choices={},
        by_id=LEAD.id,
        at=work.tick(),
    )
    work.session.add(row)
    work.session.flush()
    return row.id


def _stop(work: Work) -> UUID:
    """Stop the work on the site."""
    return press_stop(
        work.session,
        person_id=TECHNICIAN.id,
        site_id=fixed_id(SITE),
        stop_id=uuid4(),
        device="desk",
        now=work.tick(),
    )


def _inspection_point(work: Work, card_id: UUID) -> UUID:
    (made,) = set_inspection_points(
        work.session,
        person_id=LEAD.id,
        card_ids=[card_id],
        kind="witness",
        party="the insurer",
        party_id=None,
        notice_hours=24,
        reason="clause 7.3 of the contract",
        now=work.tick(),
        new_id=uuid4,
    )
    return made


def addresses(
    desk: Desk, ids: dict[str, object], *, writing: bool
) -> list[tuple[str, str, bool]]:
    """Return (endpoint, address, whether it names a thing of the site)."""
    found = []
    with desk.app.test_request_context():
        for rule in desk.app.url_map.iter_rules():
            methods = (rule.methods or set()) - SAFE
            if bool(methods) is not writing or rule.endpoint.startswith("library."):
                continue
            assert methods <= {"POST"}, rule
            known = ids | NO_THING
            if "/inspections/<" in rule.rule:
                known["point_id"] = ids["inspection_id"]
            values = {name: known[name] for name in rule.arguments}
            named = bool(set(ids) & set(rule.arguments))
            address = url_for(rule.endpoint, **values)
            found.append((rule.endpoint, address, named))
    assert len(found) > 10
    return found


def test_nobody_sees_what_is_anothers(things: tuple[Desk, dict[str, object]]) -> None:
    desk, ids = things
    asked = addresses(desk, ids, writing=False)
    for who in OUTSIDERS:
        client = desk.person(who).client
        got = {a: client.get(a).status_code for _, a, named in asked if named}
        assert len(got) > 10
        assert {a: s for a, s in got.items() if s not in (403, 404)} == {}, who


def test_who_is_not_signed_in_sees_no_page(
    things: tuple[Desk, dict[str, object]],
) -> None:
    desk, ids = things
    client = desk.passer_by().client
    for endpoint, address, _ in addresses(desk, ids, writing=False):
        if endpoint not in OPEN:
            answer = client.get(address)
            assert answer.status_code == 302, address
            assert answer.headers["Location"].startswith("/account/sign-in"), address


def test_nothing_is_changed_without_the_sessions_token(
    things: tuple[Desk, dict[str, object]],
) -> None:
    desk, ids = things
    for visitor in (desk.passer_by(), desk.person(TECHNICIAN)):
        for _, address, _ in addresses(desk, ids, writing=True):
            answer = visitor.client.post(address, data={"csrf_token": uuid4().hex})
            assert answer.status_code == 400, address


@pytest.mark.parametrize("who", OUTSIDERS, ids=[who.sign_in for who in OUTSIDERS])
def test_nobody_changes_what_is_anothers(
    things: tuple[Desk, dict[str, object]], who: Cast
) -> None:
    desk, ids = things
    client = desk.person(who).client
    token = client.get("/field/csrf.json").get_json()["token"]
    typed = {"reason": "x", "text": "x", "decision": "use_as_is", "password": "x" * 12}
    body = {"device": "t", "entries": [], "card_ids": [str(ids["card_id"])], **typed}
    for endpoint, address, named in addresses(desk, ids, writing=True):
        if not named:
            continue
        kind = "json" if endpoint.startswith("field.") else "data"
        sent = {kind: body if kind == "json" else typed | {"csrf_token": token}}
        answer = client.post(address, headers={"X-CSRFToken": token}, **sent)
        assert answer.status_code in (403, 404), address


# Who has no business in an area, on a site that is theirs to see.
NOT_FOR = {
    ADMINISTRATOR: ("field", "owner", "planning", "turnover"),
    TECHNICIAN: ("instruments", "people", "planning", "setup"),
    OWNER: ("field", "instruments", "people", "planning", "setup"),
}
ASKS_NOTHING = {  # of the record: the link is the key, a draft is all there is
    "people.enrol",
    "setup.remarks",
    "setup.starting_point",
    "turnover.plan_round",  # the form offers an administrator no lineup
}


def test_each_role_changes_nothing_outside_its_own_areas(
    things: tuple[Desk, dict[str, object]],
) -> None:
    desk, ids = things
    typed = {"reason": "x", "text": "x", "decision": "use_as_is", "password": "x" * 12}
    body = {"device": "t", "entries": [], "card_ids": [str(ids["card_id"])], **typed}
    for who, areas in NOT_FOR.items():
        client = desk.person(who).client
        token = client.get("/field/csrf.json").get_json()["token"]
        asked = [
            (endpoint, address)
            for endpoint, address, _ in addresses(desk, ids, writing=True)
            if endpoint.startswith(tuple(f"{area}." for area in areas))
            and endpoint not in ASKS_NOTHING
        ]
        assert len(asked) > 10
        got = {}
        for endpoint, address in asked:
            kind = "json" if endpoint.startswith("field.") else "data"
            sent = {kind: body if kind == "json" else typed | {"csrf_token": token}}
            answer = client.post(address, headers={"X-CSRFToken": token}, **sent)
            got[endpoint] = answer.status_code
        assert {e: s for e, s in got.items() if s not in (403, 404)} == {}, who
