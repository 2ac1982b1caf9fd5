"""Planning a round: leaving out, adding, points, people, days, editions; opening it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ForbiddenError, InputError, NotFoundError
from models.schema import Apparatus, Card, EditionChoice, LogEntry, PlanDraft, Round
from models.services.keeping.check_record import check_record
from models.services.planning.change_plan import PlanChanges
from models.services.planning.changes import changes_of
from models.services.planning.draft import begin_plan, drop_plan, open_plan, planning_of
from models.services.planning.plan_view import PlanLine, PlanView, plan_view
from models.services.setup.plan_round import plan_round
from models.services.turnover.gate import gate
from models.services.turnover.list_rounds import list_rounds
from tests.scenario import (
    BEGAN,
    CR,
    DW,
    IR,
    LEAD,
    OFF_SITE,
    OFF_SITE_LEAD,
    OWNER,
    RT,
    SECOND,
    TECHNICIAN,
    VI,
    Work,
    fixed_id,
    lineup_id,
)

DRAW_OUT = "Acceptance, draw-out breakers"
DAY = date(2026, 3, 4)  # BEGAN is the morning of 3 March at the site


class Desk:
    """A lead who plans a round of the place."""

    def __init__(self, session: Session, **given: Any) -> None:
        self.session, self.at = session, given.get("now", BEGAN)
        self.plan_id = begin_plan(
            session,
            **{
                "person_id": LEAD.id,
                "lineup_id": lineup_id(),
                "kind": "acceptance",
                "programme": DRAW_OUT,
                "now": BEGAN,
                "new_id": uuid4,
                **given,
            },
        )

    @property
    def change(self) -> PlanChanges:
        return PlanChanges(
            self.session, person_id=LEAD.id, plan_id=self.plan_id, now=self.at
        )

    @property
    def view(self) -> PlanView:
        return plan_view(
            self.session, person_id=LEAD.id, plan_id=self.plan_id, now=self.at
        )

    def line(self, label: str, procedure: str) -> PlanLine:
        (found,) = (
            line
            for line in self.view.lines
            if (line.apparatus, line.card.procedure) == (label, procedure)
        )
        return found

    def key(self, label: str, procedure: str) -> str:
        return self.line(label, procedure).card.key

    def open(self) -> Work:
        round_id = open_plan(
            self.session,
            person_id=LEAD.id,
            plan_id=self.plan_id,
            now=self.at,
            new_id=uuid4,
        )
        return Work(self.session, round_id, self.at)


def faults_of(act: Callable[[], object]) -> dict[str, str]:
    with pytest.raises(InputError) as refused:
        act()
    return {fault.field: fault.message for fault in refused.value.faults}


def test_a_plan_that_is_opened_as_proposed_is_the_programme(place: Session) -> None:
    desk = Desk(place)
    view = desk.view
    proposed = [(line.card.mark, line.card.planned) for line in view.lines]
    assert [one for one in proposed if one != ("optional", False)] == [
        *[("required", True)] * 6,
        ("if_fitted", True),
    ]
    assert (len(view.planned), view.points) == (7, 32)
    work = desk.open()
    assert list(work.cards) == [
        ("bus", IR),
        ("bus", CR),
        ("bus", DW),
        ("breaker 52", IR),
        ("breaker 52", CR),
        ("breaker 52", VI),
        ("relay 51", RT),
    ]
    assert place.get(PlanDraft, desk.plan_id) is None
    assert changes_of(place.get_one(Round, work.round_id)) == []
    with pytest.raises(NotFoundError):
        _ = desk.view


def test_everything_that_is_changed_stands_in_the_round_with_its_reason(
    place: Session,
) -> None:
    """Left out, added, other points, people, days; gate and log say it."""
    desk = Desk(place)
    breaker = fixed_id("Marram pumping station breaker 52")
    desk.change.leave_out([desk.key("breaker 52", VI)], "  no dc set on site yet ")
    desk.change.put_back([desk.key("breaker 52", "breaker_timing")])
    desk.change.change_points(
        desk.key("bus", CR), ["phase A", "phase A, second splice"], "two splices"
    )
    desk.change.change_points(desk.key("relay 51", RT), ["4", "2 x pickup"], "set 2")
    key = desk.change.add_card(
        apparatus_id=breaker,
        procedure=DW,
        detail="across the  open gaps",
        labels=[],
        reason="asked by the owner",
    )
    desk.change.assign([key, desk.key("bus", IR)], TECHNICIAN.id)
    desk.change.schedule([key], DAY)
    view = desk.view
    assert [r for line in view.lines for r in line.reasons] == [
        ("Points changed", "two splices", LEAD.name),
        ("Left out", "no dc set on site yet", LEAD.name),
        ("Added", "asked by the owner", LEAD.name),
        ("Points changed", "set 2", LEAD.name),
    ]
    assert view.shares == [(TECHNICIAN.name, 2, 9), ("not assigned", 6, 31)]
    assert view.days == [(DAY, 1), (None, 7)]
    work = desk.open()
    card = work.card("breaker 52", DW)
    assert (card.detail, card.planned_on) == ("across the open gaps", DAY)
    assert [p.label for p in card.points] == ["phase A", "phase B", "phase C"]
    assert ("breaker 52", VI) not in work.cards
    assert work.card("bus", IR).assigned_to_id == TECHNICIAN.id
    relay = work.card("relay 51", RT).points
    assert [(p.label, p.given["applied_a"]) for p in relay] == [
        ("4 × pickup", 1920.0),
        ("2 × pickup", 960.0),
    ]
    found = changes_of(place.get_one(Round, work.round_id))
    assert [(c.what, c.where, c.reason, c.by) for c in found] == [
        ("left_out", "Cell 1 · breaker 52", "no dc set on site yet", LEAD.name),
        ("added", "Cell 1 · breaker 52", "asked by the owner", LEAD.name),
        ("points", "Cell 1 · bus", "two splices", LEAD.name),
        ("points", "Cell 1 · relay 51", "set 2", LEAD.name),
    ]
    settled = gate(place, person_id=LEAD.id, round_id=work.round_id).settled
    assert [(line.code, len(line.items)) for line in settled] == [
        ("left_out", 1),
        ("added", 1),
        ("points", 2),
    ]
    actions = list(place.scalars(select(LogEntry.action).order_by(LogEntry.seq)))
    assert actions[-7:].count("assign cards") == 2
    assert check_record(place).faults == []


def test_what_is_left_out_of_the_programme_is_a_deviation_of_the_round(
    place: Session,
) -> None:
    desk = Desk(place, programme="Acceptance, any gear")
    desk.change.leave_out([desk.key("breaker 52", VI)], "not asked by the contract")
    work = desk.open()
    work.fill_all()
    found = gate(place, person_id=LEAD.id, round_id=work.round_id)
    content = found.seals.content
    assert content["conformity"]["word"] == "conforms_with_deviations"
    assert content["conformity"]["reasons"][-1] == (
        "1 card of the programme was left out when the round was planned, "
        "listed with the reasons."
    )
    (change,) = content["plan"]["changes"]
    assert (change["what"], change["by"]) == ("left_out", LEAD.name)


def test_what_cannot_be_planned_is_said_and_nothing_is_kept(place: Session) -> None:
    desk = Desk(place)
    vacuum, contacts = desk.key("breaker 52", VI), desk.key("breaker 52", CR)
    times = desk.key("breaker 52", "breaker_timing")
    relay = desk.key("relay 51", RT)
    before = dict(desk.change.found.draft.choices)
    breaker = fixed_id("Marram pumping station breaker 52")
    added: dict[str, Any] = {
        "apparatus_id": breaker,
        "procedure": DW,
        "detail": "open",
        "labels": [],
        "reason": "asked",
    }
    refused: dict[str, tuple[Callable[[], object], str, str]] = {
        "a required card without a reason": (
            lambda: desk.change.leave_out([vacuum, times]),
            "reason",
            "why these cards are left out",
        ),
        "no card": (lambda: desk.change.assign([], None), "cards", "at least one"),
        "somebody who is not on the site": (
            lambda: desk.change.assign([vacuum], OFF_SITE.id),
            "assigned_to",
            "of your firm",
        ),
        "the owner": (
            lambda: desk.change.assign([vacuum], OWNER.id),
            "assigned_to",
            "of your firm",
        ),
        "yesterday": (
            lambda: desk.change.schedule([vacuum], date(2026, 3, 2)),
            "planned_on",
            "This day is over",
        ),
        "no point": (
            lambda: desk.change.change_points(contacts, [" "], "why"),
            "points",
            "at least one point",
        ),
        "a point twice": (
            lambda: desk.change.change_points(relay, ["2", "2 × pickup"], "why"),
            "points",
            "stands twice",
        ),
        "no pole": (
            lambda: desk.change.change_points(contacts, ["pole D"], "why"),
            "points",
            "begin with one of pole A, pole B, pole C",
        ),
        "no multiple": (
            lambda: desk.change.change_points(relay, ["often"], "why"),
            "points",
            "no multiple of the pickup",
        ),
        "what the point fixes": (
            lambda: desk.change.change_points(times, ["pole A, slowly"], "why"),
            "points",
            "choose from pole A, close",
        ),
        "other points without a reason": (
            lambda: desk.change.change_points(contacts, ["pole A"], ""),
            "reason",
            "why these points",
        ),
        "a procedure that serves another apparatus": (
            lambda: desk.change.add_card(**{**added, "procedure": RT}),
            "procedure",
            "serves this apparatus",
        ),
        "an apparatus of another lineup": (
            lambda: desk.change.add_card(
                **{**added, "apparatus_id": fixed_id("Saltern crusher house bus")}
            ),
            "apparatus",
            "of this lineup",
        ),
        "a card that is there": (
            lambda: desk.change.add_card(
                **{
                    **added,
                    "procedure": CR,
                    "detail": desk.line("breaker 52", CR).card.detail,
                }
            ),
            "detail",
            "is there already",
        ),
        "an edition that is refused": (
            lambda: desk.change.answer_edition(
                "insulation_minimum", "insulation_minimum_rule", "spec 3"
            ),
            "print_insulation_minimum",
            "one of the editions",
        ),
        "an edition without the document": (
            lambda: desk.change.answer_edition(
                "insulation_minimum", "insulation_minimum_older", " "
            ),
            "document_insulation_minimum",
            "which document",
        ),
        "a setting that is none": (
            lambda: desk.change.let_outside_stand("perhaps"),
            "outside_let_stand",
            "one of the two",
        ),
    }
    for case, (act, field, words) in refused.items():
        faults = faults_of(act)
        assert words in faults[field], case
    assert desk.change.found.draft.choices == before
    with pytest.raises(NotFoundError):
        desk.change.put_back(["no-such-card"])


def test_leaving_everything_out_opens_nothing(place: Session) -> None:
    desk = Desk(place)
    keys = [line.card.key for line in desk.view.planned]
    desk.change.leave_out(keys, "the job was called off")
    assert "at least one" in faults_of(desk.open)["cards"]
    assert place.scalars(select(Round)).all() == []
    drop_plan(place, person_id=LEAD.id, plan_id=desk.plan_id)
    with pytest.raises(NotFoundError):
        planning_of(place, LEAD.id, desk.plan_id)


def test_what_was_chosen_can_be_taken_back(place: Session) -> None:
    desk = Desk(place)
    start = [line.card for line in desk.view.lines]
    vacuum, bus = desk.key("breaker 52", VI), desk.key("bus", CR)
    desk.change.leave_out([vacuum], "no set")
    desk.change.put_back([vacuum])
    desk.change.change_points(bus, ["phase A"], "one only")
    desk.change.change_points(bus, ["phase A", "phase B", "phase C"], "")
    desk.change.assign([bus], SECOND.id)
    desk.change.assign([bus], None)
    key = desk.change.add_card(
        apparatus_id=fixed_id("Marram pumping station breaker 52"),
        procedure=DW,
        detail="open",
        labels=["phase A"],
        reason="asked",
    )
    desk.change.leave_out([key])
    assert [line.card for line in desk.view.lines] == start


def test_the_edition_that_the_contract_names_is_asked_and_kept(
    place: Session,
) -> None:
    """Insulation and metals: tables whose other prints these cards would feel."""
    desk = Desk(place)
    asked = {q.table: q for q in desk.view.questions}
    assert set(asked) == {"insulation_minimum", "metals"}
    (other,) = asked["insulation_minimum"].others
    assert other.print.key == "insulation_minimum_older"
    assert [d.procedure for d in other.differences] == ["Insulation resistance"]
    desk.change.answer_edition(
        "insulation_minimum", "insulation_minimum_older", "Contract 12, annex C"
    )
    desk.change.answer_edition("metals", "metals", "")
    assert desk.view.questions[0].chosen == "insulation_minimum_older"
    work = desk.open()
    kept = {
        one["table"]: (one["print"], one["document"])
        for one in place.get_one(Round, work.round_id).editions
    }
    assert kept == {
        "insulation_minimum": ("insulation_minimum_older", "Contract 12, annex C"),
        "metals": ("metals", ""),
    }
    (choice,) = place.scalars(select(EditionChoice))
    assert (choice.print_key, choice.site_id is not None) == (
        "insulation_minimum_older",
        True,
    )
    cites = [c["document"] for c in work.card("bus", IR).points[0].rule["cite"]]
    assert any("ATS" in document for document in cites)
    assert check_record(place).faults == []


def test_the_plan_says_what_cannot_be_judged_and_what_it_needs(
    place: Session,
) -> None:
    desk = Desk(place)
    desk.change.put_back([desk.key("breaker 52", "breaker_timing")])
    view = desk.view
    unjudged = {one.title: one for one in view.unjudged}
    timing = unjudged["Breaker timing"]
    assert not timing.judged
    assert "latest closing time" in " ".join(timing.missing)
    assert unjudged["Contact resistance"].judged  # compared, the bus without a limit
    needs = {need.title: need for need in view.needs}
    assert needs["Breaker timing"].fitting == []
    assert not needs["Breaker timing"].is_met
    insulation = {one.tag: one for one in needs["Insulation resistance"].fitting}
    assert set(insulation) == {"IR-1", "IR-DUE", "IR-NEW"}
    assert insulation["IR-DUE"].lapses == [date(2026, 3, 3)]
    assert insulation["IR-NEW"].lapses == []
    far = date(2026, 7, 1)
    desk.change.schedule([line.card.key for line in view.planned], far)
    needs = {need.title: need for need in desk.view.needs}
    late = {one.tag: one.lapses for one in needs["Insulation resistance"].fitting}
    assert late == {"IR-1": [far], "IR-DUE": [far], "IR-NEW": []}
    assert not needs["Contact resistance"].is_met


def test_a_maintenance_round_is_planned_from_the_baseline(place: Session) -> None:
    """Same points and the same test voltage; what the baseline lacks is said."""
    desk = Desk(place)
    desk.change.leave_out([desk.key("breaker 52", VI)], "no set on site")
    desk.change.change_points(
        desk.key("bus", CR), ["phase A", "phase B", "phase B, far end"], "no phase C"
    )
    first = desk.open()
    first.fill_all()
    first.turn_over()
    later = Desk(
        place,
        kind="maintenance",
        programme="Maintenance, any gear",
        now=BEGAN + timedelta(days=365),
    )
    bus = later.line("bus", CR)
    assert bus.points == ["phase A", "phase B", "phase B, far end"]
    assert bus.card.from_baseline
    assert bus.card.changed is None
    assert later.line("bus", IR).card.defaults["test_kv"] == 2.5
    assert [(one.apparatus, one.title) for one in later.view.without_baseline] == [
        ("breaker 52", "Vacuum integrity")
    ]
    assert later.view.baseline == "Acceptance round 1, accepted"
    work = later.open()
    assert [p.label for p in work.card("bus", CR).points] == bus.points
    assert work.card("bus", IR).defaults["test_kv"] == 2.5


def test_a_plan_goes_on_where_it_was_left(place: Session) -> None:
    desk = Desk(place)
    desk.change.assign([desk.key("bus", IR)], SECOND.id)
    again = Desk(place)
    assert again.plan_id == desk.plan_id
    assert again.line("bus", IR).assigned_to == SECOND.name
    other = Desk(place, programme="Acceptance, any gear")
    assert other.plan_id == desk.plan_id
    marks = [line.card.mark for line in other.view.lines]
    assert marks.count("required") == 7


def test_a_plan_is_its_leads_alone(place: Session) -> None:
    desk = Desk(place)
    for person, error in ((TECHNICIAN, ForbiddenError), (OFF_SITE_LEAD, NotFoundError)):
        with pytest.raises(error):
            planning_of(place, person.id, desk.plan_id)


def test_a_plan_given_to_the_service_has_to_be_whole(place: Session) -> None:
    """Cards of the programme that are not in it were left out without a word."""
    desk = Desk(place)
    plan = planning_of(place, LEAD.id, desk.plan_id).plan

    def open_with(cards: Any) -> UUID:
        return plan_round(
            place,
            person_id=LEAD.id,
            lineup_id=lineup_id(),
            kind=plan.kind,
            programme=plan.programme,
            now=BEGAN,
            new_id=uuid4,
            plan=replace(plan, cards=tuple(cards)),
        )

    faults = faults_of(lambda: open_with(plan.cards[1:]))
    assert "leave it out with a reason" in faults["cards"]
    assert place.scalars(select(Card)).all() == []
    open_with(plan.cards)


def test_rounds_with_ones_own_cards_come_first(place: Session) -> None:
    desk = Desk(place)
    desk.change.assign([desk.key("bus", IR)], SECOND.id)
    desk.open()
    (one,) = list_rounds(place, person_id=SECOND.id, yours_first=True).rows
    assert (one.mine, one.mine_open) == (1, 7)
    (one,) = list_rounds(place, person_id=TECHNICIAN.id, yours_first=True).rows
    assert (one.mine, one.mine_open) == (0, 6)


def test_a_breaker_that_left_is_named_and_not_planned(place: Session) -> None:
    first = Desk(place, programme="Acceptance, any gear").open()
    first.fill_all()
    first.turn_over()
    breaker = place.get_one(Apparatus, fixed_id("Marram pumping station breaker 52"))
    breaker.cell_id = None
    place.flush()
    later = Desk(
        place,
        kind="maintenance",
        programme="Maintenance, any gear",
        now=BEGAN + timedelta(days=365),
    )
    assert later.view.elsewhere == ["breaker 52 (on the spare shelf)"]
    assert {line.apparatus for line in later.view.lines} == {"bus", "relay 51"}
