"""The set-up of an empty installation, by whoever can read what it prints."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError
from models.schema import FirstStart, LogEntry, Organisation, Person
from models.services.keeping.check_record import check_record
from models.services.people import first_start as starting
from models.services.people.first_start import ALPHABET, CodeRefusedError, SetUpState
from models.signing import keys
from tests.scenario import BEGAN, PASSWORD, SECRET

CODE, NEXT_CODE = "ABCDE23456", "GHJKL7899Z"
HERE, ELSEWHERE = "this browser", "another browser"
DAY = timedelta(hours=24)


def start(session: Session, code: str = CODE, later: timedelta = DAY * 0) -> Any:
    return starting.renew_code(session, code=code, row_id=uuid4(), now=BEGAN + later)


def begin(session: Session, **changes: Any) -> None:
    given = {"code": CODE, "holder": HERE, "name": "Fathom Line", "address": "1 Quay"}
    starting.begin_set_up(
        session, **{**given, "now": BEGAN, "new_id": uuid4, **changes}
    )


def add(session: Session, **changes: Any) -> UUID:
    given = {"holder": HERE, "name": "Ada Wren", "sign_in": "Wren", "also": ["lead"]}
    return starting.add_first_administrator(
        session,
        **{**given, "password": PASSWORD, "secret": SECRET, "now": BEGAN, **changes},
        new_id=uuid4,
    )


def test_from_nothing_to_the_first_administrator(session: Session) -> None:
    assert start(session) == BEGAN + DAY
    begin(session)
    assert starting.set_up_state(session, holder=HERE).name == "Fathom Line"
    person_id = add(session)
    person = session.get_one(Person, person_id)
    assert person.roles == {"administrator", "lead"}
    assert keys.open_key(person.key.wrapped_key, PASSWORD, str(person_id))
    assert starting.fingerprint_waits_for(session, person_id=person_id)
    starting.finish_set_up(session, person_id=person_id, now=BEGAN)
    assert not starting.fingerprint_waits_for(session, person_id=person_id)
    entries = session.execute(
        select(LogEntry.action, LogEntry.actor_id).order_by(LogEntry.seq)
    ).all()
    assert [tuple(entry) for entry in entries] == [
        ("enter test organisation", None),
        ("add person", None),
        ("make authority", person_id),
        ("write authority down", person_id),
    ]
    assert check_record(session).faults == []


TYPED = {
    "as printed": "ABCDE-23456",
    "in small letters": "abcde-23456",
    "with spaces": " ABC DE 234 56 ",
    "without its hyphen": "ABCDE23456",
}


@pytest.mark.parametrize("typed", TYPED.values(), ids=TYPED)
def test_the_code_may_be_typed_in_any_way(session: Session, typed: str) -> None:
    start(session)
    begin(session, code=typed)


REFUSED = {
    "another code": ({"code": NEXT_CODE}, "printed last"),
    "nothing": ({"code": ""}, "printed last"),
    "half of it": ({"code": "ABCDE"}, "printed last"),
    "after 24 hours": ({"now": BEGAN + DAY}, "start the program again"),
}


@pytest.mark.parametrize(("changes", "words"), REFUSED.values(), ids=REFUSED)
def test_a_code_that_does_not_hold(
    session: Session, changes: dict[str, Any], words: str
) -> None:
    start(session)
    with pytest.raises(CodeRefusedError, match=words):
        begin(session, **changes)
    assert session.scalars(select(func.count()).select_from(Organisation)).one() == 0


def test_a_name_that_cannot_be_leaves_the_code_usable(session: Session) -> None:
    start(session)
    session.commit()
    with pytest.raises(InputError):
        begin(session, name=" ")
    session.rollback()
    begin(session)


def test_of_two_browsers_one_goes_on_and_the_other_is_told(session: Session) -> None:
    start(session)
    begin(session)
    with pytest.raises(ConflictError, match="in another browser"):
        begin(session, holder=ELSEWHERE)
    with pytest.raises(ForbiddenError, match="in another browser"):
        add(session, holder=ELSEWHERE)
    assert starting.set_up_state(session, holder=ELSEWHERE) == SetUpState(held=False)
    add(session)
    for late in (begin, add):
        with pytest.raises(ConflictError, match="set up already"):
            late(session)


def test_it_goes_on_where_it_was(session: Session) -> None:
    start(session)
    begin(session)
    start(session, NEXT_CODE, DAY)  # the program was stopped in between
    begin(session, code="", name="Fathom Line Testing")  # the browser still has it
    begin(session, code=NEXT_CODE, holder=ELSEWHERE, name="Fathom", now=BEGAN + DAY)
    with pytest.raises(ForbiddenError):
        add(session)
    add(session, holder=ELSEWHERE, now=BEGAN + DAY)
    assert session.scalars(select(Organisation.name)).all() == ["Fathom"]


def test_each_start_makes_the_former_code_useless(session: Session) -> None:
    start(session)
    start(session, NEXT_CODE)
    with pytest.raises(CodeRefusedError):
        begin(session)
    assert session.scalars(select(func.count()).select_from(FirstStart)).one() == 1


def test_where_there_are_people_there_is_no_set_up(place: Session) -> None:
    assert start(place) is None
    with pytest.raises(ConflictError, match="set up already"):
        begin(place)


def test_the_code_is_not_kept(session: Session) -> None:
    start(session)
    row = session.scalars(select(FirstStart)).one()
    assert row.code_hash.startswith("$argon2id$")
    assert len(set(ALPHABET)) == 32
    assert not set("01IO") & set(ALPHABET)
