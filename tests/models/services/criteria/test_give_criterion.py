"""Entering, superseding and withdrawing what a maker or a project gives."""

import json
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.schema import GivenCriterion, LogEntry
from models.services.criteria.criterion_draft import Scope, draft_criterion
from models.services.criteria.criterion_effects import effects
from models.services.criteria.given_criteria import (
    criterion_record,
    lineup_criteria,
    lineups_with_criteria,
)
from models.services.keeping.check_record import check_record
from tests.giving import PAPERS, change, give, withdraw
from tests.models.services.keeping.tampering import change as tamper
from tests.models.services.keeping.tampering import without_triggers
from tests.scenario import (
    BEGAN,
    CR,
    IR,
    LEAD,
    OFF_SITE_LEAD,
    OWNER,
    RIVAL,
    STRANGER,
    TECHNICIAN,
    Cast,
    Work,
    fixed_id,
    lineup_id,
)

BREAKER = Scope(apparatus_id=fixed_id("Marram pumping station breaker 52"))
KIND = Scope(apparatus_kind="breaker")


def limit_of(work: Work, label: str = "breaker 52") -> tuple[float, dict[str, Any]]:
    """Return the highest contact resistance of a card's rule, and its citation."""
    rule = work.card(label, CR).points[0].rule
    (bound,) = (b for b in rule["bounds"] if b["kind"] == "high")
    return bound["value"], rule["cite"][bound["cite"]]


def test_a_round_that_is_planned_takes_it_in(place: Session) -> None:
    key = give(place, scope=BREAKER)
    value, cite = limit_of(Work.begin(place))
    assert value == 35.0
    assert (cite["criterion"], cite["version"]) == (str(key), 1)
    assert cite["provenance"] == "project"
    assert "60 µΩ on the nameplate" in cite["note"]


def test_it_decides_a_verdict_and_the_working_says_so(place: Session) -> None:
    give(place, standing="maker")
    give(place, standing="project")
    work = Work.begin(place)
    work.confirm("breaker 52", CR)
    work.read("breaker 52", CR, "34.0", "34.5", "36.0")
    assert list(work.verdicts("breaker 52", CR).values()) == [
        "within",
        "within",
        "outside",
    ]
    facts = work.facts("breaker 52", CR)
    working = facts.say(facts.current[2].judgements[-1])["working"]
    assert (
        "Source: Project specification PS-7 (revision C), clause 6.2, entered as "
        "version 1, goes before the maker's 40 µΩ (Instruction book IB-31) and the "
        "maker's 60 µΩ on the nameplate; project specification."
    ) in working


def test_an_open_round_keeps_its_rules(opened: Work) -> None:
    give(opened.session, at=opened.tick())
    assert limit_of(Work.resume(opened.session))[0] == 60.0


def test_the_last_version_holds(place: Session) -> None:
    key = give(place)
    change(place, key, text="33", clause="clause 6.2 as amended")
    value, cite = limit_of(Work.begin(place))
    assert (value, cite["version"]) == (33.0, 2)


def test_the_figure_is_kept_without_what_nobody_sees(place: Session) -> None:
    give(place, text="\0 35\u200b")
    assert place.scalars(select(GivenCriterion.text)).one() == "35"


def test_what_is_withdrawn_decides_nothing(place: Session) -> None:
    key = give(place)
    withdraw(place, key)
    value, cite = limit_of(Work.begin(place))
    assert value == 60.0 and "criterion" not in cite


def test_another_may_be_given_once_it_is_withdrawn(place: Session) -> None:
    withdraw(place, give(place))
    assert give(place, text="32") is not None


SCOPES = {
    "one apparatus": (BREAKER, {"breaker 52": 30.0, "bus": None}),
    "a kind": (KIND, {"breaker 52": 30.0, "bus": None}),
    "the lineup": (Scope(), {"breaker 52": 30.0, "bus": 30.0}),
}


@pytest.mark.parametrize(("scope", "wanted"), SCOPES.values(), ids=SCOPES)
def test_it_holds_for_what_it_is_given_for(
    place: Session, scope: Scope, wanted: dict[str, float | None]
) -> None:
    give(place, scope=scope, quantity="insulation_minimum", text="30", unit="MOhm")
    work = Work.begin(place)
    for label, value in wanted.items():
        (bound,) = work.card(label, IR).points[0].rule["bounds"]
        assert (bound["value"] == value) is (value is not None)


FAULTS: dict[str, tuple[dict[str, Any], str]] = {
    "no document": ({"document": " "}, "document"),
    "no reason": ({"reason": ""}, "reason"),
    "a document of many pages": ({"document": "x" * 201}, "document"),
    "a clause that cannot be kept": ({"clause": "a\0b"}, "clause"),
    "no figure": ({"text": ""}, "value"),
    "a figure like a book": ({"text": "35." + "0" * 38}, "value"),
    "a comma": ({"text": "3,5"}, "value"),
    "a bound": ({"text": "<35"}, "value"),
    "a unit that does not fit": ({"unit": "kV"}, "unit"),
    "a figure that is not given": ({"quantity": "colour"}, "quantity"),
    "a standing that there is not": ({"standing": "neighbour"}, "standing"),
    "apparatus of another lineup": (
        {"scope": Scope(apparatus_id=fixed_id("Saltern crusher house breaker 52"))},
        "scope",
    ),
    "a kind that the lineup has not": (
        {"scope": Scope(apparatus_kind="gas_tank")},
        "scope",
    ),
    "apparatus that is not tested so": (
        {"scope": Scope(apparatus_kind="relay")},
        "scope",
    ),
}


@pytest.mark.parametrize(("typed", "place_"), FAULTS.values(), ids=FAULTS)
@pytest.mark.any_database
def test_what_cannot_be_is_refused_with_its_place(
    place: Session, typed: dict[str, Any], place_: str
) -> None:
    with pytest.raises(InputError) as refused:
        give(place, **typed)
    assert place_ in [fault.field for fault in refused.value.faults]
    assert place.scalars(select(GivenCriterion)).all() == []


@pytest.mark.any_database
def test_several_faults_are_said_at_once(place: Session) -> None:
    with pytest.raises(InputError) as refused:
        give(place, text="x", document="", reason="", standing="")
    assert {fault.field for fault in refused.value.faults} == {
        "value",
        "document",
        "reason",
        "standing",
    }


def test_the_same_is_not_given_twice(place: Session) -> None:
    give(place)
    with pytest.raises(InputError, match="enter a new version"):
        give(place, text="34")
    give(place, scope=BREAKER, text="34")  # a narrower one may stand beside it
    give(place, standing="maker")


@pytest.mark.any_database
def test_a_change_that_changes_nothing_is_refused(place: Session) -> None:
    key = give(place)
    with pytest.raises(InputError, match="Nothing is different"):
        change(place, key, reason="because")


def test_who_looked_at_an_older_version_is_told(place: Session) -> None:
    key = give(place)
    change(place, key, text="33")
    for act in (lambda: change(place, key, text="32"), lambda: withdraw(place, key)):
        with pytest.raises(ConflictError, match="Version 2 has been entered since"):
            act()


def test_what_is_withdrawn_is_not_changed_again(place: Session) -> None:
    key = give(place)
    withdraw(place, key)
    with pytest.raises(ConflictError, match="withdrawn"):
        change(place, key, seen=2, text="33")
    with pytest.raises(ConflictError, match="withdrawn"):
        withdraw(place, key, seen=2)


@pytest.mark.any_database
def test_withdrawing_needs_a_document_and_a_reason(place: Session) -> None:
    key = give(place)
    with pytest.raises(InputError) as refused:
        withdraw(place, key, document="", reason=" ")
    assert [f.field for f in refused.value.faults] == ["document", "reason"]


REFUSED: dict[str, tuple[Cast, type[Exception]]] = {
    "a technician": (TECHNICIAN, ForbiddenError),
    "the owner's engineer": (OWNER, ForbiddenError),
    "a lead of the firm who is not assigned": (OFF_SITE_LEAD, NotFoundError),
}


@pytest.mark.parametrize(("who", "error"), REFUSED.values(), ids=REFUSED)
@pytest.mark.any_database
def test_only_a_lead_of_the_site_gives_criteria(
    place: Session, who: Cast, error: type[Exception]
) -> None:
    key = give(place)
    for act in (
        lambda: give(place, standing="maker", by=who),
        lambda: change(place, key, text="33", by=who),
        lambda: withdraw(place, key, by=who),
    ):
        with pytest.raises(error):
            act()


@pytest.mark.parametrize("who", [LEAD, TECHNICIAN, OWNER], ids=lambda who: who.role)
@pytest.mark.any_database
def test_everybody_of_the_site_reads_them(place: Session, who: Cast) -> None:
    key = give(place)
    listed = lineup_criteria(place, person_id=who.id, lineup_id=lineup_id())
    assert [row.figure for row in listed.in_force] == ["35 µΩ"]
    assert listed.place.may_give is (who is LEAD)
    record = criterion_record(place, person_id=who.id, criterion_id=key)
    assert record.last.document == "Project specification PS-7"
    (count,) = lineups_with_criteria(place, person_id=who.id)
    assert count.in_force == 1


@pytest.mark.parametrize("who", [OFF_SITE_LEAD, RIVAL, STRANGER])
@pytest.mark.any_database
def test_nobody_else_reads_them(place: Session, who: Cast) -> None:
    key = give(place)
    with pytest.raises(NotFoundError):
        lineup_criteria(place, person_id=who.id, lineup_id=lineup_id())
    with pytest.raises(NotFoundError):
        criterion_record(place, person_id=who.id, criterion_id=key)
    with pytest.raises(NotFoundError):
        criterion_record(place, person_id=who.id, criterion_id=uuid4())


def test_history_keeps_every_version(place: Session) -> None:
    key = give(place)
    change(place, key, text="33", reason="Amendment 1 of the project.")
    withdraw(place, key, seen=2)
    record = criterion_record(place, person_id=LEAD.id, criterion_id=key)
    assert [(v.version, v.figure, v.withdrawn) for v in record.versions] == [
        (3, "33 µΩ", True),
        (2, "33 µΩ", False),
        (1, "35 µΩ", False),
    ]
    assert [v.by for v in record.versions] == [LEAD.name] * 3
    assert record.versions[0].document == "Letter L-9"
    listed = lineup_criteria(place, person_id=LEAD.id, lineup_id=lineup_id())
    assert (len(listed.in_force), len(listed.withdrawn)) == (0, 1)


def test_versions_follow_each_other_whatever_the_clock_says(place: Session) -> None:
    key = give(place, at=BEGAN)
    change(place, key, text="33", at=BEGAN.replace(year=2020))
    record = criterion_record(place, person_id=LEAD.id, criterion_id=key)
    assert record.versions[0].at > record.versions[1].at


def test_the_record_says_which_rounds_use_which_version(place: Session) -> None:
    key = give(place)
    work = Work.begin(place)
    before = criterion_record(place, person_id=LEAD.id, criterion_id=key).uses
    assert [(u.versions, u.behind) for u in before] == [([(1, 1)], 0)]
    change(place, key, text="33", at=work.tick())
    (use,) = criterion_record(place, person_id=LEAD.id, criterion_id=key).uses
    assert (use.title, use.versions, use.behind) == (
        "Acceptance round 1",
        [(1, 1)],
        1,
    )
    # An owner sees a round once it is turned over.
    assert criterion_record(place, person_id=OWNER.id, criterion_id=key).uses == []


def test_one_that_comes_after_the_round_is_in_none_of_its_cards(opened: Work) -> None:
    key = give(opened.session, at=opened.tick())
    (use,) = criterion_record(opened.session, person_id=LEAD.id, criterion_id=key).uses
    assert (use.versions, use.behind) == ([(0, 1)], 1)


def test_one_that_another_goes_before_leaves_no_round_behind(opened: Work) -> None:
    give(opened.session, at=opened.tick())
    work = opened
    key = give(work.session, standing="maker", at=work.tick())
    (use,) = criterion_record(work.session, person_id=LEAD.id, criterion_id=key).uses
    assert (use.versions, use.behind) == ([(0, 1)], 0)


def drafted(session: Session, standing: str, text: str) -> GivenCriterion:
    wording = PAPERS[standing]
    return draft_criterion(
        session,
        person_id=LEAD.id,
        lineup_id=lineup_id(),
        criterion_id=uuid4(),
        scope=KIND,
        quantity="contact_limit",
        standing=standing,
        wording=type(wording)(text=text, unit="uOhm", document="D", reason="r"),
        now=BEGAN,
    )


def test_before_it_is_stored_it_says_what_it_would_do(place: Session) -> None:
    (effect,) = effects(place, drafted(place, "project", "35"))
    assert effect.apparatus == "breaker 52"
    assert effect.before.endswith("at most 60.00 µΩ")
    assert effect.after.endswith("at most 35.00 µΩ")
    assert effect.decides
    assert place.scalars(select(GivenCriterion)).all() == []


def test_it_says_where_another_goes_before_it(place: Session) -> None:
    give(place)
    (effect,) = effects(place, drafted(place, "maker", "40"))
    assert effect.before == effect.after
    assert not effect.decides
    assert effect.instead == "Project specification PS-7"


def test_every_act_is_in_the_log(place: Session) -> None:
    key = give(place)
    change(place, key, text="33")
    withdraw(place, key, seen=2)
    entries = place.scalars(
        select(LogEntry)
        .where(LogEntry.subject == f"criterion {key}")
        .order_by(LogEntry.seq)
    ).all()
    assert [entry.action for entry in entries] == [
        "give criterion",
        "change criterion",
        "withdraw criterion",
    ]
    assert {entry.actor_id for entry in entries} == {LEAD.id}
    said = json.loads(entries[1].body)
    assert (said["version"], said["text"], said["kind"]) == (2, "33", "breaker")
    assert check_record(place).faults == []


TAMPERINGS = {
    "the figure": "text = '99'",
    "the document": "document = 'another'",
    "the reason": "reason = 'another'",
    "what it is given for": "apparatus_kind = NULL",
}


@pytest.mark.parametrize("what", TAMPERINGS.values(), ids=TAMPERINGS)
def test_what_is_changed_by_hand_is_found(place: Session, what: str) -> None:
    key = give(place)
    without_triggers(place, "given_criterion")
    tamper(place, "given_criterion", what, key)
    (fault,) = check_record(place).faults
    assert fault == f"criterion {key} differs from the log"
