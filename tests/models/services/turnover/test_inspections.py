"""Hold, witness and review points: set, announced, answered, in gate and package."""

from datetime import timedelta
from uuid import UUID, uuid4

import pytest

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
    WrongPasswordError,
)
from models.services.people.access import card_of, person_of, round_of
from models.services.turnover import inspections
from models.services.turnover.inspection_views import waiting_inspections
from models.services.turnover.package import draft_document
from tests.scenario import (
    CR,
    IR,
    LEAD,
    OWNER,
    PASSWORD,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
)


def set_point(
    work: Work,
    kind: str,
    card: tuple[str, str] = ("bus", IR),
    who: Cast | None = OWNER,
    by: Cast = LEAD,
) -> UUID:
    (made,) = inspections.set_inspection_points(
        work.session,
        person_id=by.id,
        card_ids=[work.card(*card).id],
        kind=kind,
        party="" if who else "Third party inspector, its own firm",
        party_id=who.id if who else None,
        notice_hours=24,
        reason="contract, clause 7.2",
        now=work.tick(),
        new_id=uuid4,
    )
    return made


def give_notice(work: Work, point: UUID, before_h: float = 25) -> None:
    now = work.tick()
    inspections.give_notice(
        work.session,
        person_id=TECHNICIAN.id,
        point_id=point,
        notice_id=uuid4(),
        given_at=now - timedelta(hours=before_h),
        work_at=now - timedelta(hours=1),
        how="by telephone to the works office",
        now=now,
    )


def answer(
    work: Work,
    point: UUID,
    said: str,
    by: Cast = OWNER,
    remark: str = "",
    password: str = PASSWORD,
) -> None:
    inspections.answer_inspection_point(
        work.session,
        person_id=by.id,
        point_id=point,
        answer_id=uuid4(),
        answer=said,
        remark=remark,
        password=password,
        now=work.tick(),
    )


def still(work: Work) -> set[str]:
    return {line.code for line in work.gate().still}


@pytest.mark.any_database
def test_a_hold_point_stops_turnover_until_its_person_releases_it(
    complete: Work,
) -> None:
    assert still(complete) == {"seals"}
    point = set_point(complete, "hold")
    assert "inspection_hold" in still(complete)
    with pytest.raises(ForbiddenError, match="answers this, with their own"):
        answer(complete, point, "released", by=LEAD)
    with pytest.raises(WrongPasswordError):
        answer(complete, point, "released", password="guess")
    answer(complete, point, "released")
    assert "inspection_hold" not in still(complete)
    with pytest.raises(ConflictError, match="released already, by Noor Curlew"):
        answer(complete, point, "released")
    settled = {line.code for line in complete.gate().settled}
    assert "inspections_answered" in settled


def test_no_reading_is_taken_while_a_hold_point_waits(confirmed: Work) -> None:
    point = set_point(confirmed, "hold", ("breaker 52", CR))
    confirmed.confirm("breaker 52", CR)
    card = confirmed.card("breaker 52", CR)
    confirmed.tick()
    entry = confirmed.reading(card, card.points[0], "38.6")
    (refused,) = confirmed.send(entry)
    assert refused["status"] == "refused"
    assert refused["faults"][0]["field"] == "inspections"
    assert OWNER.name in refused["faults"][0]["message"]
    assert not confirmed.facts("breaker 52", CR).current
    answer(confirmed, point, "released")
    assert confirmed.send(entry)[0]["status"] == "stored"


def test_a_reading_before_the_release_is_listed_until_it_is_repeated(
    confirmed: Work,
) -> None:
    point = set_point(confirmed, "hold", ("breaker 52", CR))
    confirmed.confirm("breaker 52", CR)
    card = confirmed.card("breaker 52", CR)
    early = []
    for place, text in zip(card.points, ("38.6", "39.4", "40.2"), strict=True):
        confirmed.tick()
        early.append(confirmed.reading(card, place, text))
    answer(confirmed, point, "released")
    confirmed.store(*early)  # taken while it waited, brought after its release
    (line,) = [one for one in confirmed.gate().still if one.code == "before_release"]
    assert line.text == "3 readings taken before a hold point was released"
    for old in confirmed.facts("breaker 52", CR).current:
        confirmed.again("breaker 52", CR, old.id, old.text)
    assert "before_release" not in still(confirmed)


def test_what_was_read_before_a_point_was_set_is_not_early(complete: Work) -> None:
    set_point(complete, "hold", ("breaker 52", CR))
    assert "before_release" not in still(complete)


def test_a_witness_is_absent_only_after_due_notice(complete: Work) -> None:
    point = set_point(complete, "witness")
    with pytest.raises(ForbiddenError, match="No notice of at least 24 h"):
        answer(complete, point, "absent", by=TECHNICIAN)
    give_notice(complete, point)
    answer(complete, point, "absent", by=TECHNICIAN)
    document = draft_document(
        complete.session, person_id=LEAD.id, round_id=complete.round_id, now=complete.at
    )
    (shown,) = [p for card in document["cards"] for p in card["inspections"]]
    assert shown["answer"]["answer_text"] == "absent after notice"
    assert shown["answer"]["own"] is False
    assert shown["notices"][0]["how"] == "by telephone to the works office"


def test_who_has_no_account_is_recorded_with_what_shows_it(complete: Work) -> None:
    point = set_point(complete, "witness", who=None)
    with pytest.raises(InputError, match="who said so"):
        answer(complete, point, "present", by=TECHNICIAN)
    answer(complete, point, "present", by=TECHNICIAN, remark="signed the paper sheet")
    assert "inspection_witness" not in still(complete)


def test_a_point_falls_away_with_a_reason_of_substance(complete: Work) -> None:
    point = set_point(complete, "review")
    for weak in ("", "no need"):
        with pytest.raises(InputError, match="why this point falls away"):
            answer(complete, point, "withdrawn", by=LEAD, remark=weak)
    words = "the owner waives the review in letter 14"
    answer(complete, point, "withdrawn", by=LEAD, remark=words)
    assert "inspection_review" not in still(complete)


def test_who_is_waited_for_sees_that_card_of_the_open_round(confirmed: Work) -> None:
    session, card = confirmed.session, confirmed.card("bus", IR)
    owner = person_of(session, OWNER.id)
    with pytest.raises(NotFoundError):
        card_of(session, owner, card.id)
    set_point(confirmed, "witness")
    assert card_of(session, owner, card.id) is card
    for other in (confirmed.card("breaker 52", CR),):
        with pytest.raises(NotFoundError):
            card_of(session, owner, other.id)
    with pytest.raises(NotFoundError):
        round_of(session, owner, confirmed.round_id)
    mine = waiting_inspections(session, person_id=OWNER.id)
    assert [(one.kind_text, one.mine) for one in mine] == [("witness point", True)]
    assert waiting_inspections(session, person_id=STRANGER.id) == []


@pytest.mark.parametrize(
    "who", [TECHNICIAN, OWNER, STRANGER], ids=lambda one: one.sign_in
)
def test_only_a_lead_of_the_site_sets_a_point(confirmed: Work, who: Cast) -> None:
    with pytest.raises((ForbiddenError, NotFoundError)):
        set_point(confirmed, "hold", by=who)
    assert confirmed.facts("bus", IR).inspections == []


def test_nobody_of_another_owner_can_be_named(confirmed: Work) -> None:
    with pytest.raises(NotFoundError):
        set_point(confirmed, "witness", who=STRANGER)


def test_a_round_that_is_turned_over_takes_none(accepted: Work) -> None:
    with pytest.raises(ConflictError):
        set_point(accepted, "hold")
