"""Judging again: what a preview shows, what is stored, what never changes."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.schema import Judgement, Package, Rejudging, SiteAssignment
from models.services.criteria.rejudge import StalePreviewError, rejudge
from models.services.criteria.rejudge_preview import Preview, preview
from models.services.criteria.rejudge_scope import choosable
from models.services.criteria.rejudgings import rejudgings
from models.services.keeping.check_record import check_record
from models.services.owner.baseline import baseline_values
from models.services.owner.gear_book import gear_book
from models.services.turnover.card_record import card_record
from tests import giving
from tests.models.services.criteria.chosen_before import choose
from tests.models.services.keeping.tampering import change, without_triggers
from tests.scenario import (
    BEGAN,
    CR,
    DW,
    IR,
    LEAD,
    LINEUP,
    OFF_SITE_LEAD,
    OTHER_LEAD,
    OTHER_SITE,
    OWNER,
    OWNER_FIRM,
    RIVAL,
    SITE,
    STRANGER,
    TECHNICIAN,
    VI,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)

FRACTION = "withstand_field_fraction"
SCOPES = {
    "lineup": lineup_id(),
    "site": fixed_id(SITE),
    "owner": fixed_id(OWNER_FIRM),
}


def choose_eighty(work: Work, **given: Any) -> None:
    """Choose 0.80 of the rated withstand: 28.8 kV, where 27 kV was applied."""
    said = {"table_key": FRACTION, "print_key": f"{FRACTION}_iec"} | given
    choose(work.session, now=work.tick(), **said)


def look(work: Work, by: Cast = LEAD, kind: str = "lineup") -> Preview:
    return preview(work.session, person_id=by.id, kind=kind, subject_id=SCOPES[kind])


def judge_again(
    work: Work,
    by: Cast = LEAD,
    kind: str = "lineup",
    *,
    digest: str | None = None,
    reason: str = "the contract names the other edition",
) -> UUID:
    shown = digest if digest is not None else look(work, by, kind).digest
    return rejudge(
        work.session,
        person_id=by.id,
        kind=kind,
        subject_id=SCOPES[kind],
        digest=shown,
        reason=reason,
        now=work.tick(),
        new_id=uuid4,
    )


def judgements(work: Work) -> int:
    return work.session.scalars(select(func.count()).select_from(Judgement)).one()


def faults(work: Work) -> list[str]:
    return check_record(work.session).faults


def test_where_nothing_was_chosen_nothing_would_change(complete: Work) -> None:
    shown = look(complete)
    assert shown.nothing
    assert shown.lines == []
    assert shown.alike == []
    assert shown.counts["untouched"] == shown.counts["readings"] > 0
    with pytest.raises(ConflictError, match="already"):
        judge_again(complete)


def test_a_preview_shows_every_verdict_that_would_change(complete: Work) -> None:
    choose_eighty(complete)
    shown = look(complete)
    lines = {(one.apparatus, one.procedure, one.was, one.now) for one in shown.lines}
    assert lines == {
        ("bus", DW, "within", "unjudged"),
        ("breaker 52", VI, "within", "unjudged"),
    }
    assert len(shown.lines) == shown.counts["moved"] == 6
    (one, *_) = shown.lines
    assert (one.site, one.lineup, one.cell) == (SITE, LINEUP, "1 Incomer")
    assert (one.point, one.text, one.turned_over) == ("phase A", "held", False)
    assert any("holds 27 kV" in said for said in one.was_asked)
    assert any("holds 28.8 kV" in said for said in one.now_asked)
    assert "80 %" in " ".join(one.now_asked)


def test_a_preview_stores_nothing(complete: Work) -> None:
    choose_eighty(complete)
    before = judgements(complete)
    look(complete)
    assert judgements(complete) == before
    assert not complete.session.new
    assert not complete.session.dirty
    assert set(complete.verdicts("bus", DW).values()) == {"within"}


def test_what_keeps_its_verdict_is_counted_by_what_its_rule_says(
    complete: Work,
) -> None:
    choose(complete.session, now=complete.tick())  # the older print: the same 5 GOhm
    shown = look(complete)
    assert shown.lines == []
    insulated = ("bus", "breaker 52")
    read = [one for label in insulated for one in complete.facts(label, IR).current]
    assert shown.counts["sources"] == len(read)
    assert shown.counts["limits"] == 0
    assert {(one.procedure, one.limit_moves) for one in shown.alike} == {(IR, False)}
    assert sum(one.count for one in shown.alike) == shown.counts["sources"]
    (one, *_) = shown.alike
    assert "(2019)" in " ".join(one.was_asked)
    assert "2003 to 2009" in " ".join(one.now_asked)


def test_a_limit_that_moves_without_the_verdict_is_said(confirmed: Work) -> None:
    lineup = confirmed.card("bus", IR).round.lineup
    lineup.rated_kv = 8.25
    confirmed.read("bus", IR, "9.0")
    judge_again(confirmed)  # from the rule for 15 kV to that for 8.25 kV
    choose(confirmed.session, now=confirmed.tick())
    shown = look(confirmed)
    assert (shown.counts["limits"], shown.counts["moved"]) == (1, 0)
    (one,) = [alike for alike in shown.alike if alike.limit_moves]
    assert "at least 2.500 GΩ" in one.was_asked[0]
    assert "at least 2.000 GΩ" in one.now_asked[0]


@pytest.mark.parametrize("kind", SCOPES)
def test_after_the_act_the_verdicts_are_by_the_new_rules(
    complete: Work, kind: str
) -> None:
    choose_eighty(complete)
    shown = look(complete, kind=kind)
    act = judge_again(complete, kind=kind)
    assert set(complete.verdicts("bus", DW).values()) == {"unjudged"}
    assert look(complete, kind=kind).nothing
    row = complete.session.get_one(Rejudging, act)
    assert (row.scope, row.subject_id) == (kind, SCOPES[kind])
    assert row.counts == shown.counts
    assert "80" in row.what or "IEC" in row.what
    facts = complete.facts("bus", DW)
    for reading in facts.current:
        held = reading.judgement
        assert held.rejudging_id == act
        assert held.judged_by.body != reading.rule
        assert not held.after_turnover
        assert [j.verdict for j in reading.judgements] == ["within", "unjudged"]
        assert any("28.8 kV" in step for step in facts.say(held)["working"])
    assert faults(complete) == []


def test_undoing_is_another_act(complete: Work) -> None:
    choose_eighty(complete)
    judge_again(complete)
    choose_eighty(complete, print_key=None)
    shown = look(complete)
    assert {(one.was, one.now) for one in shown.lines} == {("unjudged", "within")}
    judge_again(complete, reason="chosen by mistake")
    (reading, *_) = complete.facts("bus", DW).current
    assert [j.verdict for j in reading.judgements] == ["within", "unjudged", "within"]
    assert reading.judgement.judged_by.body == reading.rule
    assert faults(complete) == []


def test_later_readings_of_an_open_round_are_by_the_rule_in_force(
    confirmed: Work,
) -> None:
    confirmed.read("breaker 52", CR, "38.6", conditions=AT_60_A)
    assert confirmed.verdicts("breaker 52", CR) == {"pole A": "unjudged"}
    choose(
        confirmed.session,
        now=confirmed.tick(),
        table_key="contact_test_current",
        print_key="contact_test_current_iec",
    )
    confirmed.read("breaker 52", CR, "39.4", conditions=AT_60_A)
    assert set(confirmed.verdicts("breaker 52", CR).values()) == {"unjudged"}
    judge_again(confirmed)
    assert set(confirmed.verdicts("breaker 52", CR).values()) == {"within"}
    confirmed.read("breaker 52", CR, "63.0", conditions=AT_60_A)
    assert confirmed.verdicts("breaker 52", CR) == {
        "pole A": "within",
        "pole B": "within",
        "pole C": "outside",
    }
    assert faults(confirmed) == []


AT_60_A = {"temperature_c": 20, "test_current_a": 60}


def test_a_group_with_rules_of_both_kinds_is_judged_as_one(confirmed: Work) -> None:
    """A reading whose group was judged again carries the rule on when it moves."""
    confirmed.read("breaker 52", CR, "30.0", "44.0", conditions=AT_60_A)
    choose(
        confirmed.session,
        now=confirmed.tick(),
        table_key="contact_test_current",
        print_key="contact_test_current_iec",
    )
    judge_again(confirmed)
    assert set(confirmed.verdicts("breaker 52", CR).values()) == {"within"}
    confirmed.read("breaker 52", CR, "20.0", conditions=AT_60_A)
    verdicts = confirmed.verdicts("breaker 52", CR)
    assert verdicts["pole B"] == "outside"  # 44.0 is more than 1.5 times 20.0
    moved = next(
        r
        for r in confirmed.facts("breaker 52", CR).current
        if r.point.label == "pole B"
    )
    assert moved.judgement.rejudging_id is None
    assert moved.judgement.own_rule == moved.judgements[-2].own_rule is not None
    assert faults(confirmed) == []


def test_after_turnover_the_verdict_of_then_stays(accepted: Work) -> None:
    session = accepted.session
    package = session.scalars(select(Package)).one()
    before = (package.content_digest, package.document)
    baseline = baseline_values(session, lineup_id())
    choose_eighty(accepted)
    act = judge_again(accepted)
    (reading, *_) = accepted.facts("bus", DW).current
    assert reading.judgement.verdict == "within"
    assert reading.judged_again is not None
    assert reading.judged_again.verdict == "unjudged"
    assert reading.judged_again.rejudging_id == act
    assert (package.content_digest, package.document) == before
    after = baseline_values(session, lineup_id())
    plain = [{**v, "judged_again": None} for v in after.values()]
    assert plain == list(baseline.values())
    assert faults(accepted) == []


def test_the_newer_verdict_stands_beside_the_older_one(accepted: Work) -> None:
    choose_eighty(accepted)
    judge_again(accepted)
    book = gear_book(accepted.session, person_id=OWNER.id, lineup_id=lineup_id())
    row = next(r for r in book.rows if r.procedure == DW)
    assert row.baseline is not None
    assert row.baseline["verdict"] == "within"
    assert row.baseline["judged_again"]["judgement"]["verdict"] == "unjudged"
    assert row.baseline["judged_again"]["by"] == LEAD.name
    card = card_record(
        accepted.session, person_id=OWNER.id, card_id=accepted.card("bus", DW).id
    )
    reading = card.points[0]["readings"][0]
    assert reading["judgement"]["verdict"] == "within"
    assert reading["judged_again"]["reason"] == "the contract names the other edition"


def test_the_owner_judges_what_was_turned_over_alone(accepted: Work) -> None:
    at = accepted.tick(days=30)
    open_round = Work.begin(accepted.session, kind="maintenance", at=at)
    open_round.confirm("bus", DW)
    open_round.read("bus", DW, "held")
    choose_eighty(open_round, by=OWNER, for_owner=True)
    judge_again(open_round, OWNER, "owner")
    assert set(open_round.verdicts("bus", DW).values()) == {"within"}
    (reading, *_) = accepted.facts("bus", DW).current
    assert reading.judged_again is not None
    assert not look(open_round).nothing  # the open round is left to the lead
    assert look(open_round, OWNER).nothing


def test_a_signed_card_keeps_what_was_signed(complete: Work) -> None:
    choose_eighty(complete)
    judge_again(complete)
    facts = complete.facts("bus", DW)
    assert facts.state == "signed"
    line = next(
        line for line in complete.gate().still if line.code == "undisposed_unjudged"
    )
    assert len(line.items) == 6
    shown = card_record(
        complete.session, person_id=LEAD.id, card_id=facts.card.id
    ).card["readings"][0]
    (before,) = shown["judged_before"]
    assert before["judgement"]["verdict"] == "within"
    assert before["by"] == LEAD.name
    assert faults(complete) == []


def undisposed(work: Work) -> list[UUID]:
    """Return the readings that the gate still asks a disposition for."""
    return [
        item.target_id
        for line in work.gate().still
        if line.code.startswith("undisposed_")
        for item in line.items
    ]


def test_a_disposition_settles_only_what_the_same_rule_said(confirmed: Work) -> None:
    """Outside 35 is not outside 33: who let the one pass has not seen the other."""
    limit = giving.give(confirmed.session, text="35", at=confirmed.tick())
    judge_again(confirmed)
    (pole,) = confirmed.read("breaker 52", CR, "38.6")
    confirmed.dispose(pole)
    assert undisposed(confirmed) == []
    giving.change(confirmed.session, limit, text="33", at=confirmed.tick())
    assert undisposed(confirmed) == []
    judge_again(confirmed)
    assert confirmed.verdicts("breaker 52", CR) == {"pole A": "outside"}
    assert undisposed(confirmed) == [pole]
    confirmed.dispose(pole)
    assert undisposed(confirmed) == []


def test_a_disposition_holds_when_only_the_group_grew(confirmed: Work) -> None:
    limit = giving.give(confirmed.session, text="35", at=confirmed.tick())
    (pole,) = confirmed.read("breaker 52", CR, "38.6")
    giving.change(confirmed.session, limit, text="33", at=confirmed.tick())
    judge_again(confirmed)
    confirmed.dispose(pole)
    confirmed.read("breaker 52", CR, "20.0")
    reading = next(r for r in confirmed.facts("breaker 52", CR).current if r.id == pole)
    assert [j.rejudging_id is None for j in reading.judgements] == [True, False, True]
    assert pole not in undisposed(confirmed)


def test_nothing_is_stored_when_something_changed_meanwhile(confirmed: Work) -> None:
    confirmed.read("bus", DW, "held")
    choose_eighty(confirmed)
    shown = look(confirmed)
    confirmed.read("bus", DW, "held")
    before = judgements(confirmed)
    with pytest.raises(StalePreviewError, match="look at it again"):
        judge_again(confirmed, digest=shown.digest)
    assert judgements(confirmed) == before
    judge_again(confirmed)


def test_a_preview_of_other_criteria_is_stale(complete: Work) -> None:
    choose_eighty(complete)
    shown = look(complete)
    choose_eighty(complete, print_key=None)
    with pytest.raises(StalePreviewError):
        judge_again(complete, digest=shown.digest)


@pytest.mark.parametrize("reason", ["", "  ", "x\0y"])
@pytest.mark.any_database
def test_an_act_needs_a_reason(complete: Work, reason: str) -> None:
    choose_eighty(complete)
    with pytest.raises(InputError) as refused:
        judge_again(complete, reason=reason)
    assert [fault.field for fault in refused.value.faults] == ["reason"]


NOT_THEIRS: dict[str, tuple[Cast, type[Exception]]] = {
    "a technician": (TECHNICIAN, ForbiddenError),
    "a lead of other sites": (OFF_SITE_LEAD, NotFoundError),
    "another owner": (STRANGER, NotFoundError),
}


@pytest.mark.parametrize("kind", SCOPES)
@pytest.mark.parametrize(("by", "error"), NOT_THEIRS.values(), ids=NOT_THEIRS)
@pytest.mark.any_database
def test_who_may_not(
    complete: Work, by: Cast, error: type[Exception], kind: str
) -> None:
    choose_eighty(complete)
    digest = look(complete, kind=kind).digest
    with pytest.raises(error):
        look(complete, by, kind)
    with pytest.raises(error):
        judge_again(complete, by, kind, digest=digest)


@pytest.mark.any_database
def test_no_other_scope_is_known(complete: Work) -> None:
    with pytest.raises(NotFoundError):
        preview(complete.session, person_id=LEAD.id, kind="firm", subject_id=uuid4())


def test_everybody_chooses_among_their_own(place: Session) -> None:
    for person, named in (
        (LEAD, [f"All of {OWNER_FIRM}", SITE, f"{SITE} · {LINEUP}"]),
        (OWNER, [f"All of {OWNER_FIRM}", SITE, f"{SITE} · {LINEUP}"]),
        (OFF_SITE_LEAD, []),
    ):
        found = choosable(place, person_id=person.id)
        assert [one.title for one in found] == named
    other = choosable(place, person_id=STRANGER.id)
    assert fixed_id(OTHER_SITE) in [one.subject_id for one in other]


def acts_seen(work: Work, by: Cast) -> list[UUID]:
    return [act.id for act in rejudgings(work.session, person_id=by.id)]


def test_an_act_on_all_of_an_owner_is_not_for_another_firm(complete: Work) -> None:
    """One site of an owner's in common tells nobody of the owner's other sites."""
    complete.session.add(
        SiteAssignment(
            id=uuid4(),
            person_id=RIVAL.id,
            site_id=fixed_id(SITE),
            from_day=BEGAN.date(),
            made_at=complete.tick(),
        )
    )
    choose_eighty(complete)
    wide = judge_again(complete, kind="owner")
    choose_eighty(complete, print_key=None)
    narrow = judge_again(complete, kind="site")
    for by, seen in (
        (LEAD, [narrow, wide]),
        (OTHER_LEAD, [narrow, wide]),
        (RIVAL, [narrow]),
        (OFF_SITE_LEAD, []),
        (STRANGER, []),
    ):
        assert acts_seen(complete, by) == seen, by


@pytest.mark.parametrize("kind", SCOPES)
def test_an_owner_sees_no_act_on_open_rounds_alone(complete: Work, kind: str) -> None:
    choose_eighty(complete)
    act = judge_again(complete, kind=kind)
    assert acts_seen(complete, LEAD) == [act]
    assert acts_seen(complete, OWNER) == []


@pytest.mark.parametrize("kind", SCOPES)
def test_an_owner_sees_the_acts_on_what_was_turned_over(
    accepted: Work, kind: str
) -> None:
    choose_eighty(accepted)
    act = judge_again(accepted, kind=kind)
    assert acts_seen(accepted, OWNER) == [act]
    assert acts_seen(accepted, STRANGER) == []


def test_a_calibration_that_was_out_stays_out(confirmed: Work) -> None:
    due = {"instrument_id": str(fixed_id("IR-DUE"))}
    confirmed.read("bus", IR, "9.0", **due)
    choose(confirmed.session, now=confirmed.tick())
    shown = look(confirmed)
    assert shown.lines == []
    judge_again(confirmed)
    facts = confirmed.facts("bus", IR)
    (reading,) = facts.current
    assert reading.judgement.verdict == "unjudged"
    assert "calibration" in facts.say(reading.judgement)["reason"]
    assert faults(confirmed) == []


TAMPERINGS = {
    "a verdict": ("judgement", "verdict = 'within'"),
    "a rule": ("judgement", "rule_digest = NULL"),
    "a reason": ("rejudging", "reason = 'another'"),
    "a scope": ("rejudging", "scope = 'owner'"),
}


@pytest.mark.parametrize(("table", "what"), TAMPERINGS.values(), ids=TAMPERINGS)
def test_what_was_added_is_held_to_the_log(
    complete: Work, table: str, what: str
) -> None:
    choose_eighty(complete)
    act = judge_again(complete)
    judgement = complete.facts("bus", DW).current[0].judgement
    without_triggers(complete.session, table)
    row = act if table == "rejudging" else judgement.id
    change(complete.session, table, what, row)
    assert any("judging again" in fault for fault in faults(complete))


def test_columns_and_words_agree_on_a_later_round(
    session_at: Callable[[str], Session],
) -> None:
    """Rounds with comparisons, over-range readings and relay times, turned over."""
    work = Work.resume(session_at("compared"))
    lineup = work.card("bus", IR).round.lineup
    lineup.rated_kv = 4.76  # another class: all insulation limits move
    shown = look(work)
    assert shown.counts["limits"] + shown.counts["moved"] > 0
    judge_again(work, reason="the nameplate was read wrongly")
    assert look(work).nothing
    assert faults(work) == []


def test_it_is_committed_on_both_databases(
    engine_at: Callable[[str], Engine],
) -> None:
    engine = engine_at("accepted")
    with Session(engine, expire_on_commit=False) as session:
        work = Work.resume(session)
        work.at += timedelta(days=1)
        choose_eighty(work)
        judge_again(work, OWNER, "site")
        session.commit()
    with Session(engine) as session:
        assert check_record(session).faults == []
        assert session.scalars(select(Rejudging)).one().by.name == OWNER.name
