"""Who may see and do what: a table of acts by roles, on both databases."""

from collections.abc import Callable, Iterable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.schema import PackageFile, Person, PersonRole, Round
from models.services.field import round_document
from models.services.field.accept_entries import accept_entries
from models.services.field.sign_cards import sign_cards
from models.services.owner import gear_book, trends
from models.services.owner.list_lineups import list_lineups
from models.services.people import access, people
from models.services.people.assignments import assign
from models.services.people.change_password import change_password
from models.services.setup import plan_round
from models.services.turnover import (
    acceptance,
    card_record,
    close_deficiency,
    lead_acts,
    package,
    round_overview,
)
from models.services.turnover.gate import gate
from models.services.turnover.list_rounds import list_rounds
from tests.scenario import (
    ADMINISTRATOR,
    BEGAN,
    BOTH,
    CR,
    IR,
    LEAD,
    OFF_SITE,
    OFF_SITE_LEAD,
    OTHER_SITE,
    OWNER,
    PASSWORD,
    PEOPLE,
    RIVAL,
    SITE,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)

SEES_OPEN_ROUND = (TECHNICIAN, LEAD)
OUTSIDERS = (OFF_SITE, OFF_SITE_LEAD, RIVAL, STRANGER)
UNKNOWN = UUID(int=7)

Act = Callable[[Work, UUID, dict[str, UUID]], Any]


def _prepare(meaning: str) -> Act:
    def act(work: Work, person_id: UUID, ids: dict[str, UUID]) -> object:
        return package.prepare(
            work.session,
            person_id=person_id,
            round_id=ids["round"],
            meaning=meaning,
            password=PASSWORD,
            now=work.at,
        )

    return act


# What can be done to a thing, by the name of what identifies it.
ACTS: dict[str, tuple[str, Act]] = {
    "see the round document": (
        "round",
        lambda w, p, i: round_document.round_document(
            w.session, person_id=p, round_id=i["round"], now=w.at
        ),
    ),
    "see the round's sheet": (
        "round",
        lambda w, p, i: round_overview.round_overview(
            w.session, person_id=p, round_id=i["round"]
        ),
    ),
    "see the gate": (
        "round",
        lambda w, p, i: gate(w.session, person_id=p, round_id=i["round"]),
    ),
    "see the package": (
        "round",
        lambda w, p, i: package.package_view(
            w.session, person_id=p, round_id=i["round"]
        ),
    ),
    "see a card": (
        "card",
        lambda w, p, i: card_record.card_record(
            w.session, person_id=p, card_id=i["card"]
        ),
    ),
    "see the card of a reading": (
        "reading",
        lambda w, p, i: card_record.card_of_reading(
            w.session, person_id=p, reading_id=i["reading"]
        ),
    ),
    "see the card of a deficiency": (
        "deficiency",
        lambda w, p, i: card_record.card_of_deficiency(
            w.session, person_id=p, deficiency_id=i["deficiency"]
        ),
    ),
    "draft the package": (
        "round",
        lambda w, p, i: package.draft_document(
            w.session, person_id=p, round_id=i["round"], now=w.at
        ),
    ),
    "send entries": (
        "round",
        lambda w, p, i: accept_entries(
            w.session,
            person_id=p,
            round_id=i["round"],
            device="tablet",
            entries=[],
            now=w.at,
        ),
    ),
    "sign a card": (
        "card",
        lambda w, p, i: sign_cards(
            w.session,
            person_id=p,
            round_id=i["round"],
            card_ids=[i["card"]],
            password=PASSWORD,
            now=w.at,
        ),
    ),
    "close a deficiency": (
        "deficiency",
        lambda w, p, i: close_deficiency.close_deficiency(
            w.session,
            person_id=p,
            deficiency_id=i["deficiency"],
            closing_id=uuid4(),
            reading_id=None,
            text="swept out",
            now=w.at,
        ),
    ),
    "dispose of a reading": (
        "reading",
        lambda w, p, i: lead_acts.dispose(
            w.session,
            person_id=p,
            reading_ids=[i["reading"]],
            new_id=uuid4,
            decision="use_as_is",
            reason="clear of any harm to the gear",
            password=PASSWORD,
            now=w.at,
        ),
    ),
    "return a card": (
        "card",
        lambda w, p, i: lead_acts.return_card(
            w.session,
            person_id=p,
            card_id=i["card"],
            return_id=uuid4(),
            reason="again",
            now=w.at,
        ),
    ),
    "withdraw a card": (
        "open card",
        lambda w, p, i: lead_acts.withdraw_card(
            w.session,
            person_id=p,
            card_id=i["open card"],
            withdrawal_id=uuid4(),
            reason="no breaker here",
            now=w.at,
        ),
    ),
    "waive a signature": (
        "round",
        lambda w, p, i: lead_acts.waive_seal(
            w.session,
            person_id=p,
            round_id=i["round"],
            performer_id=TECHNICIAN.id,
            waiver_id=uuid4(),
            reason="left the firm",
            now=w.at,
        ),
    ),
    "plan a round": (
        "lineup",
        lambda w, p, i: plan_round.plan_round(
            w.session,
            person_id=p,
            lineup_id=i["lineup"],
            kind="maintenance",
            programme="Maintenance, any gear",
            now=w.at,
            new_id=uuid4,
        ),
    ),
    "accept the package": (
        "round",
        lambda w, p, i: acceptance.accept_package(
            w.session,
            person_id=p,
            round_id=i["round"],
            sha256=newest_digest(w),
            password=PASSWORD,
            now=w.at,
        ),
    ),
    "sign the package as performed": ("round", _prepare("performed")),
    "approve the package": ("round", _prepare("approved")),
}
LEADS_ONLY = (
    "dispose of a reading",
    "return a card",
    "withdraw a card",
    "waive a signature",
    "plan a round",
)
RECORDERS = ("send entries", "sign a card", "close a deficiency", "draft the package")


def newest_digest(work: Work) -> str:
    """Return the SHA-256 of the newest file of a package; without one an empty text."""
    newest = select(PackageFile.sha256).order_by(PackageFile.seq.desc())
    return work.session.scalars(newest).first() or ""


def open_round(work: Work) -> dict[str, UUID]:
    """Put one of each thing on the round, and return what identifies them."""
    work.fill("breaker 52", CR, "38.6", "39.4", "61.7")
    card = work.card("breaker 52", CR)
    found = work.facts("breaker 52", CR)
    entry = work.entry(
        work.card("bus", IR),
        "deficiency",
        text="dust on the bus supports",
        holder="installer",
        severity="may_follow",
    )
    work.store(entry)
    return {
        "round": work.round_id,
        "card": card.id,
        "open card": work.card("bus", IR).id,
        "reading": next(r.id for r in found.current if r.text == "61.7"),
        "deficiency": UUID(entry["key"]),
        "lineup": lineup_id(),
    }


def refusal(work: Work, act: Act, person_id: UUID, ids: dict[str, UUID]) -> str:
    """Return the name of the error with which the act is refused, or ''."""
    try:
        with work.session.begin_nested() as savepoint:
            act(work, person_id, ids)
            savepoint.rollback()
    except (ForbiddenError, NotFoundError, ConflictError, InputError) as error:
        return type(error).__name__
    return ""


def test_nobody_from_outside_learns_that_the_things_exist(opened: Work) -> None:
    ids = open_round(opened)
    got = {
        (what, person.sign_in): refusal(opened, act, person.id, ids)
        for what, (_, act) in ACTS.items()
        for person in (*OUTSIDERS, OWNER)
    }
    shown = {key: word for key, word in got.items() if word != "NotFoundError"}
    # A wrong role is said before the thing is looked up: that tells nothing of it.
    assert set(shown.values()) == {"ForbiddenError"}, shown
    leads_may = [p.sign_in for p in PEOPLE if p.role == "lead"]
    assert not [key for key in shown if key[1] in leads_may and key[0] in LEADS_ONLY]


def test_those_on_site_see_the_round(opened: Work) -> None:
    ids = open_round(opened)
    looking = [what for what in ACTS if what.startswith("see ")]
    assert [
        (what, person.sign_in)
        for what in looking
        for person in SEES_OPEN_ROUND
        if refusal(opened, ACTS[what][1], person.id, ids)
    ] == []


def refusals(
    work: Work, acts: Iterable[str], people: Iterable[Cast], ids: dict[str, UUID]
) -> dict[str, set[str]]:
    """Return, by person, the names of the errors that *acts* are refused with."""
    return {
        person.sign_in: {refusal(work, ACTS[act][1], person.id, ids) for act in acts}
        for person in people
    }


def test_what_the_lead_decides_is_refused_to_others(opened: Work) -> None:
    ids = open_round(opened)
    others = (TECHNICIAN, OFF_SITE, RIVAL, OWNER, STRANGER)
    assert refusals(opened, LEADS_ONLY, others, ids) == {
        person.sign_in: {"ForbiddenError"} for person in others
    }
    assert refusals(opened, LEADS_ONLY, [OFF_SITE_LEAD], ids) == {
        OFF_SITE_LEAD.sign_in: {"NotFoundError"}
    }
    allowed = refusals(opened, LEADS_ONLY, [LEAD], ids)[LEAD.sign_in]
    assert "ForbiddenError" not in allowed and "" in allowed


def test_what_is_recorded_is_refused_to_owners(opened: Work) -> None:
    ids = open_round(opened)
    assert refusals(opened, RECORDERS, (OWNER, STRANGER), ids) == {
        person.sign_in: {"ForbiddenError"} for person in (OWNER, STRANGER)
    }
    off_site = (OFF_SITE, OFF_SITE_LEAD, RIVAL)
    assert refusals(opened, RECORDERS, off_site, ids) == {
        person.sign_in: {"NotFoundError"} for person in off_site
    }


def test_an_administrator_records_and_decides_nothing(opened: Work) -> None:
    """Not even on a site that they are assigned to."""
    ids = open_round(opened)
    acting = [what for what in ACTS if not what.startswith("see ")]
    refused = refusals(opened, acting, [ADMINISTRATOR], ids)[ADMINISTRATOR.sign_in]
    assert refused <= {"ForbiddenError", "NotFoundError"}
    person = access.person_of(opened.session, ADMINISTRATOR.id)
    person.held_roles.append(
        PersonRole(id=uuid4(), role="technician", since=BEGAN, until=None)
    )
    assign(opened.session, person_id=person.id, site_id=fixed_id(SITE), now=opened.at)
    person.held_roles[-1].until = opened.at  # and is a technician no more
    refused = refusals(opened, acting, [ADMINISTRATOR], ids)[ADMINISTRATOR.sign_in]
    assert refused <= {"ForbiddenError", "ConflictError"}


def test_who_sets_up_which_site(place: Session) -> None:
    seen = {}
    for one in PEOPLE:
        person = access.person_of(place, one.id)
        sites = place.scalars(access.sites_to_set_up(person)).all()
        seen[one.sign_in] = (access.may(person, "set up"), len(sites))
    assert seen == {
        **dict.fromkeys(("tern", "plover", "gull", "curlew", "skua"), (False, 1)),
        **dict.fromkeys(("heron", "egret", "stint"), (True, 1)),
        "rail": (False, 0),
        "crake": (True, 0),
        "knot": (True, 2),
    }


def test_a_lead_of_all_sites_decides_on_their_own_only(place: Session) -> None:
    """An administrator who is a lead too: setting up everywhere, deciding here."""
    person = access.person_of(place, LEAD.id)
    person.held_roles.append(
        PersonRole(id=uuid4(), role="administrator", since=BEGAN, until=None)
    )
    other = fixed_id(OTHER_SITE)
    assert access.site_of(place, person, other).name == OTHER_SITE
    assert access.lineup_of(place, person, lineup_id(OTHER_SITE), "set up")
    for doing in ("plan", "lead", "choose editions", "see record"):
        with pytest.raises(NotFoundError):
            access.site_of(place, person, other, doing)
        with pytest.raises(NotFoundError):
            access.lineup_of(place, person, lineup_id(OTHER_SITE), doing)


# Roles held -> the role that is printed with what was recorded, and decided.
PRINTED: dict[str, tuple[tuple[str, ...], str, str]] = {
    "a technician": (("technician",), "technician", "technician"),
    "a lead": (("lead",), "lead", "lead"),
    "both": (("lead", "technician"), "technician", "lead"),
    "a lead who administers": (("lead", "administrator"), "lead", "lead"),
    "three": (("lead", "technician", "administrator"), "technician", "lead"),
    "neither any more": (("administrator",), "administrator", "administrator"),
}


@pytest.mark.parametrize(
    ("roles", "recorded", "decided"), PRINTED.values(), ids=PRINTED
)
def test_the_role_that_is_printed(
    roles: tuple[str, ...], recorded: str, decided: str
) -> None:
    held = [PersonRole(role=role, since=BEGAN, until=None) for role in roles]
    person = Person(held_roles=held)
    assert access.acting_role(person, "record") == recorded
    assert access.acting_role(person, "lead", BEGAN) == decided


def test_the_role_that_was_held_then_is_printed() -> None:
    later = BEGAN + timedelta(days=9)
    person = Person(
        held_roles=[
            PersonRole(role="technician", since=BEGAN, until=later),
            PersonRole(role="lead", since=later, until=None),
        ]
    )
    assert access.acting_role(person, "record", BEGAN) == "technician"
    assert access.acting_role(person, "record", later) == "lead"
    assert access.acting_role(person, "record") == "lead"


# Separation of duties: by who did what, whatever roles they hold


def test_who_holds_both_roles_decides_nothing_of_their_own(confirmed: Work) -> None:
    """A lead who is a technician too: what they took is another's to decide."""
    work = confirmed
    ids = work.fill("breaker 52", CR, "38.6", "39.4", "61.7", by=BOTH)
    with pytest.raises(ConflictError, match="yourself: somebody else"):
        work.dispose(ids[-1], by=BOTH)
    decision = work.dispose(ids[-1], by=LEAD, agreed=False)
    for own in (LEAD, BOTH):  # who decided, and who took the reading
        with pytest.raises(ForbiddenError):
            work.answer(decision, by=own)
    work.answer(decision)
    work.fill_all()
    assert "You took readings" in work.gate(BOTH).why_not
    with pytest.raises(ConflictError, match="You took readings"):
        work.seal(BOTH, "approved")
    with pytest.raises(ConflictError, match="your own signature"):
        work.waive(BOTH, by=BOTH)
    work.seal(TECHNICIAN, "performed")
    work.seal(BOTH, "performed")
    with pytest.raises(ConflictError, match="You took readings"):
        work.seal(BOTH, "approved")
    work.seal(LEAD, "approved")
    with pytest.raises(ForbiddenError):
        work.accept(by=BOTH)
    view = package.package_view(work.session, person_id=LEAD.id, round_id=work.round_id)
    assert view is not None
    assert {one["by"]: one["role"] for one in view.signatures} == {
        TECHNICIAN.name: "technician",
        BOTH.name: "technician",
        LEAD.name: "lead",
    }


def test_acceptance_is_the_owners(complete: Work) -> None:
    complete.turn_over(accept=False)
    ids = {"round": complete.round_id}
    people = (TECHNICIAN, LEAD, RIVAL, STRANGER, OWNER)
    assert refusals(complete, ["accept the package"], people, ids) == {
        TECHNICIAN.sign_in: {"ForbiddenError"},
        LEAD.sign_in: {"ForbiddenError"},
        RIVAL.sign_in: {"ForbiddenError"},
        STRANGER.sign_in: {"NotFoundError"},
        OWNER.sign_in: {""},
    }


def test_an_unknown_thing_is_not_found(opened: Work) -> None:
    ids = open_round(opened)
    got = {
        what: refusal(
            opened,
            act,
            (OWNER if what == "accept the package" else LEAD).id,
            ids | {named: UNKNOWN},
        )
        for what, (named, act) in ACTS.items()
    }
    assert got == dict.fromkeys(ACTS, "NotFoundError")


def test_an_unknown_or_inactive_person_is_not_found(opened: Work) -> None:
    ids = open_round(opened)
    opened.session.get_one(Person, LEAD.id).active = False
    opened.session.flush()
    for person_id in (UNKNOWN, LEAD.id):
        got = {
            what: refusal(opened, act, person_id, ids)
            for what, (_, act) in ACTS.items()
        }
        assert got == dict.fromkeys(ACTS, "NotFoundError")


def test_an_owner_sees_a_round_once_it_is_turned_over(complete: Work) -> None:
    session = complete.session
    assert list_rounds(session, person_id=OWNER.id).rows == []
    complete.turn_over(accept=False)
    assert [r.id for r in list_rounds(session, person_id=OWNER.id).rows] == [
        complete.round_id
    ]
    assert list_rounds(session, person_id=STRANGER.id).rows == []


def test_each_sees_the_lineups_of_their_own_sites(place: Session) -> None:
    seen = {
        person.sign_in: [
            one.site_name for one in list_lineups(place, person_id=person.id).rows
        ]
        for person in PEOPLE
    }
    on_site = {p.sign_in for p in PEOPLE if p.on_site}
    assert seen == {
        p.sign_in: {
            TECHNICIAN.firm: [SITE],
            RIVAL.firm: [OTHER_SITE],
            OWNER.firm: [SITE],
            STRANGER.firm: [OTHER_SITE],
        }[p.firm]
        if p.sign_in in on_site
        else []
        for p in PEOPLE
    }


def test_gear_book_and_trend_are_not_for_strangers(accepted: Work) -> None:
    session = accepted.session
    point = accepted.card("bus", IR).points[0]
    for person in (STRANGER, RIVAL, OFF_SITE, OFF_SITE_LEAD):
        with pytest.raises(NotFoundError):
            gear_book.gear_book(session, person_id=person.id, lineup_id=lineup_id())
        with pytest.raises(NotFoundError):
            trends.trend(session, person_id=person.id, point_id=point.id)
    with pytest.raises(NotFoundError):
        trends.trend(session, person_id=OWNER.id, point_id=UNKNOWN)
    with pytest.raises(NotFoundError):
        gear_book.gear_book(session, person_id=OWNER.id, lineup_id=UNKNOWN)
    book = gear_book.gear_book(session, person_id=OWNER.id, lineup_id=lineup_id())
    assert book.name == "MV-1"


def test_a_card_of_another_round_is_not_found_through_this_one(accepted: Work) -> None:
    old = accepted.card("bus", IR)
    work = Work.begin(accepted.session, kind="maintenance", at=accepted.tick(hours=5))
    answers = work.send(work.entry(old, "note", text="wrong round"))
    assert [a["status"] for a in answers] == ["refused"]
    assert answers[0]["faults"] == [
        {"field": "card_id", "message": f"There is no card {old.id}."}
    ]
    assert answers[0]["card"] is None
    with pytest.raises(NotFoundError):
        sign_cards(
            work.session,
            person_id=TECHNICIAN.id,
            round_id=work.round_id,
            card_ids=[old.id],
            password=PASSWORD,
            now=work.at,
        )


def test_a_password_of_nobody_and_a_person_of_nowhere(place: Session) -> None:
    with pytest.raises(NotFoundError):
        change_password(place, person_id=UNKNOWN, old=PASSWORD, new="x" * 12, now=BEGAN)
    with pytest.raises(NotFoundError):
        people.person_view(place, person_id=UNKNOWN)


def test_a_closed_round_takes_nothing_more(accepted: Work) -> None:
    round_ = accepted.session.scalars(select(Round)).one()
    with pytest.raises(ConflictError, match="belongs to a new round"):
        access.require_open(round_)
