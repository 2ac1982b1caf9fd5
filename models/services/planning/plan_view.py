"""A plan for its page: cells with their cards, and what the whole comes to."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.schema import Apparatus, Cell, Person
from models.services.criteria.rules_in_force import RulesInForce
from models.services.owner.baseline import baseline_round
from models.services.planning.crew import crew_of
from models.services.planning.draft import Planning, planning_of
from models.services.planning.edition_questions import (
    EditionQuestion,
    edition_questions,
)
from models.services.planning.from_baseline import baseline_cards
from models.services.planning.needs import Need, needs_of
from models.services.planning.preview import RulePreview, preview_of
from models.services.planning.round_plan import PlanCard, Reasoned
from models.services.setup.nameplate import GEAR_NAMES, ratings_line, subject_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """A card of the plan, as it is shown."""

    card: PlanCard
    apparatus: str
    title: str
    assigned_to: str
    reasons: Sequence[tuple[str, str, str]]  # what, why, who
    preview: RulePreview

    @property
    def points(self) -> list[str]:
        """The labels of its points."""
        return [point.label for point in self.card.points]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCell:
    """A cell with its cards, planned or not."""

    id: UUID
    number: str
    name: str
    kind: str
    bus: str
    lines: Sequence[PlanLine]
    apparatus: Sequence[tuple[UUID, str]]

    @property
    def planned(self) -> list[PlanLine]:
        """The cards that the round gets."""
        return [line for line in self.lines if line.card.planned]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unjudged:
    """Cards whose readings cannot be judged, or compared only, for one cause."""

    title: str
    judged: bool
    reasons: Sequence[str]
    missing: Sequence[str]
    on: Sequence[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """The whole plan; *crew*: whom cards can be given to."""

    id: UUID
    kind: str
    programme: str
    lineup_id: UUID
    lineup_name: str
    site_name: str
    zone: str
    gear: str
    gear_name: str
    ratings: str
    outside_let_stand: str
    changed_at: datetime
    changed_by: str
    cells: Sequence[PlanCell]
    crew: Sequence[tuple[UUID, str]]
    questions: Sequence[EditionQuestion]
    needs: Sequence[Need]
    unjudged: Sequence[Unjudged]
    baseline: str
    elsewhere: Sequence[str]  # what the baseline tested and is not in the lineup now

    @property
    def lines(self) -> list[PlanLine]:
        """Every card, cell by cell."""
        return [line for cell in self.cells for line in cell.lines]

    @property
    def planned(self) -> list[PlanLine]:
        """The cards that the round gets."""
        return [line for line in self.lines if line.card.planned]

    @property
    def left_out(self) -> list[PlanLine]:
        """The cards that the programme wants and the round does not get."""
        return [line for line in self.lines if line.card.left_out]

    @property
    def points(self) -> int:
        """How many readings the round asks for."""
        return sum(len(line.card.points) for line in self.planned)

    @property
    def shares(self) -> list[tuple[str, int, int]]:
        """(person, cards, points), nobody in particular last."""
        return _counted(
            [(line.assigned_to or "not assigned", line) for line in self.planned],
            last="not assigned",
        )

    @property
    def days(self) -> list[tuple[date | None, int]]:
        """(day, cards), those without a day last."""
        days = [line.card.planned_on for line in self.planned]
        known = sorted({day for day in days if day is not None})
        found: list[tuple[date | None, int]] = [(day, days.count(day)) for day in known]
        return [*found, (None, days.count(None))] if None in days else found

    @property
    def unassigned(self) -> int:
        """How many cards have nobody in particular."""
        return sum(line.card.assigned_to_id is None for line in self.planned)

    @property
    def without_baseline(self) -> list[PlanLine]:
        """The planned cards of a maintenance round that the baseline lacks."""
        if self.kind != "maintenance":
            return []
        return [line for line in self.planned if not line.card.from_baseline]


def plan_view(
    session: Session, *, person_id: UUID, plan_id: UUID, now: datetime
) -> PlanView:
    """Return the plan; NotFoundError when it is not theirs, or opened already."""
    found = planning_of(session, person_id, plan_id)
    lineup, plan = found.lineup, found.plan
    crew = crew_of(session, found.person, lineup)
    show = _Shown(session, found)
    cells = show.cells()
    lines = [line for cell in cells for line in cell.lines if line.card.planned]
    today = now.astimezone(ZoneInfo(lineup.site.zone)).date()
    return PlanView(
        id=found.draft.id,
        kind=plan.kind,
        programme=plan.programme,
        lineup_id=lineup.id,
        lineup_name=lineup.name,
        site_name=lineup.site.name,
        zone=lineup.site.zone,
        gear=lineup.gear,
        gear_name=GEAR_NAMES[lineup.gear],
        ratings=ratings_line(lineup),
        outside_let_stand=plan.outside_let_stand,
        changed_at=found.draft.at,
        changed_by=found.draft.by.name,
        cells=cells,
        crew=[(one.id, one.name) for one in crew],
        questions=edition_questions(session, found),
        needs=needs_of(
            session,
            found.person.organisation_id,
            plan.planned,
            _asks(lines),
            today,
        ),
        unjudged=_unjudged(cells),
        baseline=_baseline_words(session, found),
        elsewhere=_elsewhere(session, found),
    )


class _Shown:
    """The cards of a plan in words, each rule read once."""

    def __init__(self, session: Session, found: Planning) -> None:
        self.session, self.found = session, found
        prints = {one.table: one.print for one in found.plan.editions}
        self.rules = RulesInForce(
            session, found.lineup, found.person.organisation_id, prints=prints
        )
        self.previews: dict[Any, RulePreview] = {}
        self.names = self._names()

    def _names(self) -> dict[UUID | None, str]:
        wanted: set[UUID | None] = set()
        for card in self.found.plan.cards:
            wanted.add(card.assigned_to_id)
            for why in (card.left_out, card.added, card.changed):
                wanted.add(why.by_id if why else None)
        people = select(Person.id, Person.name).where(Person.id.in_(wanted - {None}))
        return {row.id: row.name for row in self.session.execute(people)}

    def cells(self) -> list[PlanCell]:
        """Return the cells from the left, with what is in each."""
        cells = self.session.scalars(
            select(Cell)
            .where(Cell.lineup_id == self.found.lineup.id, Cell.removed.is_(False))
            .order_by(Cell.position)
        )
        own: dict[UUID | None, list[Apparatus]] = {}
        for one in self.found.apparatus:
            own.setdefault(one.cell_id, []).append(one)
        cards: dict[UUID, list[PlanCard]] = {}
        for card in self.found.plan.cards:
            cards.setdefault(card.apparatus_id, []).append(card)
        return [
            PlanCell(
                id=cell.id,
                number=cell.number,
                name=cell.name,
                kind=cell.kind,
                bus=cell.bus_label,
                lines=[
                    self._line(one, card)
                    for one in own.get(cell.id, ())
                    for card in cards.get(one.id, ())
                ],
                apparatus=[(one.id, one.label) for one in own.get(cell.id, ())],
            )
            for cell in cells
        ]

    def _line(self, apparatus: Apparatus, card: PlanCard) -> PlanLine:
        return PlanLine(
            card=card,
            apparatus=apparatus.label,
            title=PROCEDURES[card.procedure].title,
            assigned_to=self.names.get(card.assigned_to_id, ""),
            reasons=list(self._reasons(card)),
            preview=self._preview(apparatus, card),
        )

    def _reasons(self, card: PlanCard) -> list[tuple[str, str, str]]:
        said: list[tuple[str, Reasoned | None]] = [
            ("Left out", card.left_out),
            ("Added", card.added),
            ("Points changed", card.changed),
        ]
        return [
            (what, why.reason, self.names.get(why.by_id, ""))
            for what, why in said
            if why is not None
        ]

    def _preview(self, apparatus: Apparatus, card: PlanCard) -> RulePreview:
        lineup, name = self.found.lineup, card.procedure
        subject = subject_of(lineup, apparatus, name, self.rules.given)
        key = (name, subject, repr(sorted(card.defaults.items())))
        if key not in self.previews:
            rule = self.rules.rule(apparatus, name)
            self.previews[key] = preview_of(name, rule, card.defaults, subject.fields)
        return self.previews[key]


def _asks(lines: Sequence[PlanLine]) -> dict[str, list[str]]:
    """Return what the rules ask of the test, by procedure; figures only."""
    found: dict[str, list[str]] = {}
    for line in lines:
        own = found.setdefault(line.card.procedure, [])
        own += [
            said
            for said in line.preview.asks
            if said not in own and any(c.isdigit() for c in said)
        ]
    return found


def _unjudged(cells: Sequence[PlanCell]) -> list[Unjudged]:
    """Return what cannot be judged by a limit, alike ones together, worst first."""
    grouped: dict[Any, list[str]] = {}
    for cell in cells:
        for line in cell.planned:
            seen = line.preview
            if seen.judged and not seen.reasons:
                continue
            cause = (tuple(seen.reasons), tuple(seen.missing))
            key = (seen.judged or seen.compared, line.title, *cause)
            place = f"{cell.number} {line.apparatus}"
            grouped.setdefault(key, []).append(place)
    found = [
        Unjudged(
            title=title,
            judged=partly,
            reasons=reasons,
            missing=missing,
            on=tuple(dict.fromkeys(on)),
        )
        for (partly, title, reasons, missing), on in grouped.items()
    ]
    return sorted(found, key=lambda one: one.judged)


def _baseline_words(session: Session, found: Planning) -> str:
    if found.plan.kind != "maintenance":
        return ""
    held = baseline_round(session, found.lineup.id)
    return f"{held.title}, {held.state}" if held else ""


def _elsewhere(session: Session, found: Planning) -> list[str]:
    """Return what the baseline tested here that stands somewhere else today."""
    if found.plan.kind != "maintenance":
        return []
    tested = {place[0] for place in baseline_cards(session, found.lineup.id)}
    gone = tested - {one.id for one in found.apparatus}
    rows = session.scalars(
        select(Apparatus).where(Apparatus.id.in_(gone)).order_by(Apparatus.label)
    )
    return [f"{one.label} ({_stands(one)})" for one in rows]


def _stands(apparatus: Apparatus) -> str:
    if apparatus.cell is None:
        return "on the spare shelf"
    return f"now in {apparatus.cell.lineup.name}, cell {apparatus.cell.number}"


def _counted(
    pairs: Sequence[tuple[str, PlanLine]], *, last: str
) -> list[tuple[str, int, int]]:
    found: dict[str, list[PlanLine]] = {}
    for name, line in pairs:
        found.setdefault(name, []).append(line)
    return [
        (name, len(own), sum(len(line.card.points) for line in own))
        for name, own in sorted(found.items(), key=lambda p: (p[0] == last, p[0]))
    ]
