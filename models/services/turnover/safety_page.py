"""The safety of a round on one page: what stands, what lapsed, from wide to near."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.record.shapes.safety import (
    CrewPerson,
    CrewStanding,
    IsolationStanding,
    PointStanding,
)
from models.schema import Round
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.field.card_values import where
from models.services.people.access import person_of, round_of
from models.services.safety.round_safety import RoundSafety, safety_of_round
from models.services.safety.site_settings import rules_said, settings_of
from models.services.safety.stops import StopInForce, stops_in_force
from models.services.turnover.round_overview import RoundHead, round_head
from models.services.turnover.safety_seen import ItemSeen, ScopeSeen, Seen


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewSeen:
    """A crew: its people, and its lines."""

    scope: ScopeSeen
    in_charge: str | None
    planned_end: str
    lineups: list[str]
    people: list[CrewPerson]
    releasers: list[str]
    stop_words: str
    emergency: str
    sets: list[ItemSeen]
    places: list[ItemSeen]


@dataclass(frozen=True, slots=True, kw_only=True)
class IsolationSeen:
    """A clearance: its registers, and its lines."""

    scope: ScopeSeen
    clearance: str
    section: str
    holder: str | None
    people: list[CrewPerson]
    sources: list[ItemSeen]
    grounds: list[ItemSeen]
    put_back: list[ItemSeen]
    returned: list[str]  # cells, by their numbers
    returning: ScopeSeen

    @property
    def locks(self) -> int:
        """How many isolating points have a lock written."""
        return sum("lock" in one.fields for one in self.sources if not one.gone)

    @property
    def grounds_on(self) -> int:
        """How many grounds are on."""
        return sum(not one.gone and not one.off_for for one in self.grounds)

    @property
    def not_back(self) -> int:
        """How many entries of the put-back list are open."""
        return sum(not one.gone and one.back_at is None for one in self.put_back)


@dataclass(frozen=True, slots=True, kw_only=True)
class CellSeen:
    """A cell as a point of work; *scope* is None where nobody has entered it."""

    id: str
    number: str
    name: str
    scope: ScopeSeen | None
    holder: str | None
    entered: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """Something changed, was stopped, was set aside, or was said not to apply."""

    at: str
    what: str
    where: str
    why: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyPage:
    """The page. *earlier_list*: its cards were confirmed one by one, before scopes."""

    head: RoundHead
    site_id: UUID
    earlier_list: bool
    governs: str
    rules: str  # whose rules govern on the site; '' where nobody has said it
    stops: list[StopInForce]
    crews: list[CrewSeen]
    isolations: list[IsolationSeen]
    cells: list[CellSeen]
    happened: list[Happened]  # what lapsed or was stopped, the newest first
    exceptions: list[Happened]  # what was set aside, or does not apply
    outside: int  # readings taken outside a standing scope
    after_open: list[tuple[UUID, str, int]]  # card, its name, open lines


def safety_page(
    session: Session, *, person_id: UUID, round_id: UUID, now: datetime
) -> SafetyPage:
    """Return the page; NotFoundError when the round is not theirs to see."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    return page_of(session, round_, facts, safety_of_round(session, round_, now=now))


def page_of(
    session: Session, round_: Round, facts: list[CardFacts], found: RoundSafety
) -> SafetyPage:
    """Return the page of a round whose acts and cards are read already."""
    site = round_.lineup.site
    standing: Any = found.safety.site(found.at)
    names = {str(one.card.id): where(one) for one in facts}
    seen = Seen(found.book, standing, names, ZoneInfo(site.zone))
    return SafetyPage(
        head=round_head(round_),
        site_id=site.id,
        earlier_list=round_.earlier_list,
        governs=found.book["governs"],
        rules=rules_said(settings_of(site)),
        stops=stops_in_force(session, [site.id]),
        crews=[_crew(seen, one) for one in reversed(standing["crews"])],
        isolations=[_isolation(seen, one) for one in reversed(standing["isolations"])],
        cells=_cells(seen, round_, standing["points"]),
        happened=list(_happened(seen, found.acts)),
        exceptions=list(_exceptions(seen, found.acts)),
        outside=sum(len(found.safety.outside(key)) for key in names),
        after_open=list(_after_open(seen, facts, found)),
    )


def _crew(seen: Seen, crew: CrewStanding) -> CrewSeen:
    scope = seen.scope(crew)
    return CrewSeen(
        scope=scope,
        in_charge=crew["in_charge"],
        planned_end=crew["planned_end"],
        lineups=[seen.names.get(one, "") for one in crew["lineups"]],
        people=crew["people"],
        releasers=crew["releasers"],
        stop_words=scope.noted("G25a"),
        emergency=scope.noted("G03a", seen.label("emergency_number")),
        sets=seen.items("sets", crew),
        places=seen.items("places", crew),
    )


def _isolation(seen: Seen, one: IsolationStanding) -> IsolationSeen:
    return IsolationSeen(
        scope=seen.scope(one),
        clearance=one["clearance"],
        section=_section(seen, one),
        holder=one["holder"],
        people=one["people"],
        sources=seen.items("sources", one),
        grounds=seen.items("grounds", one),
        put_back=seen.items("put_back", one),
        returned=[seen.names.get(cell, "") for cell in one["returned_cells"]],
        returning=seen.scope(one["returning"]),
    )


def _section(seen: Seen, one: IsolationStanding) -> str:
    lineup = seen.names.get(one["lineup"], "")
    return f"{lineup}, {one['section']}" if one["section"] else lineup


def _cells(
    seen: Seen, round_: Round, points: dict[str, PointStanding]
) -> list[CellSeen]:
    return [
        _cell(seen, str(cell.id), cell.number, cell.name, points.get(str(cell.id)))
        for cell in round_.lineup.cells
        if not cell.removed
    ]


def _cell(
    seen: Seen, cell_id: str, number: str, name: str, point: PointStanding | None
) -> CellSeen:
    entered = point is not None and point["state"] != "none"
    return CellSeen(
        id=cell_id,
        number=number,
        name=name,
        scope=seen.scope(point) if point and entered else None,
        holder=point["holder"] if point else None,
        entered=point["entered"] if point else None,
    )


def _happened(seen: Seen, acts: Iterable[dict[str, Any]]) -> Iterable[Happened]:
    for act in _newest_first(acts):
        if act["act"] in ("change", "stop", "release"):
            yield _said(seen, act, _what(seen, act))


def _what(seen: Seen, act: dict[str, Any]) -> str:
    if act["act"] == "change":
        return seen.change(act["what"])
    return "work was stopped" if act["act"] == "stop" else "the stop was released"


def _exceptions(seen: Seen, acts: Iterable[dict[str, Any]]) -> Iterable[Happened]:
    for act in _newest_first(acts):
        wording = f"{act.get('code')} {seen.wording(act.get('code') or '')}"
        if act["act"] == "override":
            names = ", ".join(act["names"])
            yield _said(seen, act, f"set aside, agreed by {names}: {wording}")
        elif act["act"] == "line" and act["state"] == "not_applicable":
            yield _said(seen, act, f"does not apply: {wording}")


def _newest_first(acts: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    return sorted(acts, key=lambda one: datetime.fromisoformat(one["at"]), reverse=True)


def _said(seen: Seen, act: dict[str, Any], what: str) -> Happened:
    return Happened(
        at=act["at"],
        what=what,
        where=seen.names.get(act.get("item") or act.get("of") or "", ""),
        why=act.get("cause") or act.get("reason") or "",
        by=(act.get("person") or act["by"])["name"],
    )


def _after_open(
    seen: Seen, facts: Iterable[CardFacts], found: RoundSafety
) -> Iterable[tuple[UUID, str, int]]:
    for one in facts:
        if not one.readings or one.state in ("signed", "withdrawn"):
            continue
        card = found.safety.card(str(one.card.id), "", found.at)
        if count := seen.scope(card["after"]).open:
            yield one.card.id, where(one), count
