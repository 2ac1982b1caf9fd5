"""Roles changed, people deactivated: logged, never by two at once unseen."""

from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.schema import LogEntry, Person
from models.services.people import list_people, person_record
from models.services.people.assignments import end_assignment
from models.services.people.change_person import (
    ChangedMeanwhileError,
    change_roles,
    deactivate,
    reactivate,
)
from models.services.people.invitations import invite, make_link
from models.services.people.sign_in import SignInRefusedError, check_sign_in
from tests.cases import first_on_both
from tests.scenario import (
    ADMINISTRATOR,
    BEGAN,
    BOTH,
    CR,
    LEAD,
    OFF_SITE,
    OWNER,
    PASSWORD,
    SECOND,
    SITE,
    TECHNICIAN,
    TEST_FIRM,
    Work,
    fixed_id,
)

LATER = BEGAN + timedelta(days=1)


def given(**changes: Any) -> dict[str, Any]:
    own = {
        "by_id": ADMINISTRATOR.id,
        "person_id": TECHNICIAN.id,
        "seen_version": 1,
        "now": LATER,
    }
    return own | changes


def test_roles_change_and_the_log_has_both(place: Session) -> None:
    assert change_roles(place, **given(roles=("lead", "technician")))
    person = place.get_one(Person, TECHNICIAN.id)
    assert person.roles == {"lead", "technician"}
    assert person.roles_at(BEGAN) == {"technician"}
    assert not change_roles(
        place, **given(roles=("technician", "lead"), seen_version=2)
    )
    assert change_roles(place, **given(roles=("lead",), seen_version=2))
    assert person.roles_at(LATER + timedelta(days=1)) == {"lead"}
    entry = place.scalars(select(LogEntry).order_by(LogEntry.seq.desc())).first()
    assert entry is not None
    assert (entry.action, entry.actor_id) == ("change roles", ADMINISTRATOR.id)
    assert '"new":["lead"],"old":["lead","technician"]' in entry.body


def test_two_at_once_the_second_is_told_what_the_first_did(place: Session) -> None:
    change_roles(place, **given(roles=("lead",)))
    for act in (
        lambda: change_roles(place, **given(roles=("technician", "lead"))),
        lambda: deactivate(place, **given(reason="left the firm")),
    ):
        with pytest.raises(ChangedMeanwhileError) as refused:
            act()
        words = str(refused.value)
        assert f"{ADMINISTRATOR.name}: change roles, from technician to lead" in words
        assert "Nothing of yours is stored" in words
    assert place.get_one(Person, TECHNICIAN.id).roles == {"lead"}


def test_who_is_deactivated_is_out_and_comes_back_with_their_key(
    place: Session,
) -> None:
    make_link(
        place,
        by_id=ADMINISTRATOR.id,
        person_id=TECHNICIAN.id,
        token="t" * 43,
        now=BEGAN,
    )
    deactivate(place, **given(reason="left the firm"))
    person = place.get_one(Person, TECHNICIAN.id)
    assert (person.active, person.session_epoch) == (False, 1)
    with pytest.raises(SignInRefusedError):
        check_sign_in(place, sign_in="tern", password=PASSWORD)
    with pytest.raises(ConflictError, match="deactivated already"):
        deactivate(place, **given(reason="twice", seen_version=2))
    record = person_record.person_record(
        place, by_id=ADMINISTRATOR.id, person_id=person.id, now=LATER
    )
    assert [link.state for link in record.links] == ["withdrawn"]
    reactivate(place, **given(reason="came back", seen_version=2))
    with pytest.raises(ConflictError, match="active already"):
        reactivate(place, **given(reason="twice", seen_version=3))
    assert check_sign_in(place, sign_in="tern", password=PASSWORD).name


def test_the_last_administrator_stays(place: Session) -> None:
    """An administrator who has not enrolled does not count."""
    invite(
        place,
        by_id=ADMINISTRATOR.id,
        person_id=uuid4(),
        organisation_id=fixed_id(TEST_FIRM),
        name="Una Sanderling",
        sign_in="sanderling",
        roles=("administrator",),
        token="t" * 43,
        now=BEGAN,
    )
    own = given(person_id=ADMINISTRATOR.id)
    with pytest.raises(ConflictError, match="last administrator"):
        deactivate(place, **own, reason="leaves")
    with pytest.raises(ConflictError, match="last administrator"):
        change_roles(place, **own, roles=("technician",))
    change_roles(place, **given(roles=("technician", "administrator")))
    change_roles(place, **own, roles=("technician",))
    with pytest.raises(ForbiddenError):  # and is none any more
        change_roles(place, **given(roles=("lead",), seen_version=2))


REFUSED: dict[str, tuple[dict[str, Any], type[Exception]]] = {
    "by a lead": ({"by_id": LEAD.id}, ForbiddenError),
    "by an owner": ({"by_id": OWNER.id}, ForbiddenError),
    "of nobody": ({"person_id": uuid4()}, NotFoundError),
    "without a reason": ({"reason": " "}, InputError),
}


@pytest.mark.parametrize(("changes", "error"), first_on_both(REFUSED))
def test_who_and_what_is_refused(
    place: Session, changes: dict[str, Any], error: type[Exception]
) -> None:
    for act in (deactivate, reactivate):
        with pytest.raises(error):
            act(place, **given(reason="left") | changes)
    for roles in ((), ("owner",), ("king",)):
        with pytest.raises(InputError):
            change_roles(place, **given(roles=roles))


def test_what_they_hold_open_is_listed(confirmed: Work) -> None:
    work = confirmed
    card = work.card("breaker 52", CR)
    card.assigned_to_id = TECHNICIAN.id
    work.store(
        work.entry(
            card,
            "deficiency",
            text="dust",
            holder="installer",
            severity="may_follow",
        )
    )
    person = work.session.get_one(Person, TECHNICIAN.id)
    cards, deficiency = person_record.holds_open(work.session, person)
    assert "breaker 52, contact resistance, is assigned to them" in cards
    assert "D-001" in deficiency
    work.fill("breaker 52", CR)
    assert len(person_record.holds_open(work.session, person)) == 1


# The list


def names(place: Session, **asked: Any) -> list[str]:
    rows = list_people.list_people(place, by_id=ADMINISTRATOR.id, now=LATER, **asked)
    return [row.name for row in rows.rows]


def test_the_list_is_found_by_three_letters_and_filtered(place: Session) -> None:
    assert names(place, words="plo") == [SECOND.name]
    assert names(place, words="fathom tern") == [TECHNICIAN.name]
    assert BOTH.name in names(place, role="lead") and BOTH.name in names(
        place, role="technician"
    )
    assert names(place, role="administrator") == [ADMINISTRATOR.name]
    assert OFF_SITE.name not in names(place, site_id=fixed_id(SITE))
    assert names(place, state="deactivated") == []
    with pytest.raises(ForbiddenError):
        list_people.list_people(place, by_id=LEAD.id, now=LATER)


def test_who_needs_something_stands_first(place: Session) -> None:
    invited: dict[str, Any] = {
        "by_id": ADMINISTRATOR.id,
        "organisation_id": fixed_id(TEST_FIRM),
        "roles": ("technician",),
    }
    invite(
        place,
        **invited,
        person_id=uuid4(),
        name="zx-waits",
        sign_in="zx-waits",
        token="t" * 43,
        now=LATER,
    )
    rows = list_people.list_people(place, by_id=ADMINISTRATOR.id, now=LATER).rows
    needs = [row.needs for row in rows]
    order = [list_people.ORDER.index(one) for one in needs]
    assert order == sorted(order)
    assert [r.name for r in rows[:2]] == ["Ana Crake", "Joss Rail"]  # on no site
    later = LATER + timedelta(hours=50)
    rows = list_people.list_people(place, by_id=ADMINISTRATOR.id, now=later).rows
    assert (rows[0].name, rows[0].needs) == ("zx-waits", list_people.LAPSES)
    later = LATER + timedelta(hours=72)
    rows = list_people.list_people(place, by_id=ADMINISTRATOR.id, now=later).rows
    assert (rows[0].name, rows[0].needs) == ("zx-waits", list_people.LAPSED)


def test_the_record_of_a_person(place: Session) -> None:
    record = person_record.person_record(
        place, by_id=ADMINISTRATOR.id, person_id=TECHNICIAN.id, now=LATER
    )
    (held,) = record.assignments
    assert (record.state, held.site, held.state) == ("active", SITE, "now")
    assert [key.revoked_at for key in record.keys] == [None]
    assert [line.what for line in record.log] == [
        f"assign to {SITE} from {held.from_day}",
        "add person",
    ]
    end_assignment(
        place,
        by_id=ADMINISTRATOR.id,
        assignment_id=held.id,
        until_day=held.from_day,
        now=LATER,
    )
    record = person_record.person_record(
        place,
        by_id=ADMINISTRATOR.id,
        person_id=TECHNICIAN.id,
        now=LATER + timedelta(days=3),
    )
    assert record.assignments[0].state == "ended"
    assert record.needs == list_people.NO_SITE
    assert record.log[0].what == f"end the assignment to {SITE} on {held.from_day}"
