"""A crew that makes stand what a card asks, line by line, through the services."""

from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.schema import Card, Round
from models.services.safety.round_safety import RoundSafety, safety_of_round
from seed_demo.crew import Json, Member, Site

NOT_GIVEN = ("open", "lapsed")
OF_ANOTHER_CARD = ("ground_off", "springs_charged")
TO_COME = ("permit_end",)  # times that a crew notes of what has not ended
MOST_STEPS = 60  # a card that is still closed then has something nobody can give


class SafetyWalk:
    """The crew on one round; *moment* gives each act its time, *wait* lets it pass."""

    def __init__(
        self,
        session: Session,
        round_id: UUID,
        *,
        crew: tuple[Member, Member],
        found: Site,
        send: Callable[[UUID, list[Json]], None],
        moment: Callable[[], datetime],
        wait: Callable[[float], object],
        arrive: Callable[[], object] = lambda: None,
    ) -> None:
        """The first of *crew* is in charge, the second is the second person.

        *arrive* is called before each look: what *send* held back has to be there.
        """
        self.session, self.round_id = session, round_id
        self.crew, self.found = crew, found
        self.send, self.moment, self.wait = send, moment, wait
        self.arrive = arrive
        self._at: datetime

    # What stands

    def look(self) -> RoundSafety:
        """Return what stands now."""
        self.arrive()
        self._at = self.moment()
        round_ = self.session.get_one(Round, self.round_id)
        return safety_of_round(self.session, round_, now=self._at)

    def open(
        self,
        card: Card,
        who: Member,
        conditions: Json | None = None,
        short_of: Collection[str] = (),
    ) -> RoundSafety:
        """Give what is missing until *who* may take readings; return what stands then.

        The acts are worked out one from the other, and sent together. *short_of*: the
        reasons that are left to somebody else.
        """
        pauses = {*OF_ANOTHER_CARD, *short_of}
        acts: list[Json] = []
        seen = self.look()
        choice = _choice(seen, card, conditions)
        for _ in range(MOST_STEPS):
            standing = seen.safety.card(
                str(card.id), str(who.id), self._at.isoformat(), choice
            )
            reason = next(iter(standing["reasons"]), None)
            if acts and (reason is None or reason["code"] in pauses):
                self.send(who.id, acts)
                acts = []
            if reason is None or reason["code"] in short_of:
                return seen
            give = getattr(self, f"_on_{reason['code']}")
            given = list(give(seen, standing, card, who, reason["facts"]))
            if not given:  # another card was made safe, and that was sent
                seen = self.look()
                continue
            for one in given:
                seen.safety.hear(_as_kept(one, who))
            acts += given
            self._at = self.moment()
        raise RuntimeError(f"the card stays closed: {standing['reasons']}")

    def finish(
        self,
        card: Card,
        who: Member,
        conditions: Json | None = None,
        seen: RoundSafety | None = None,
    ) -> None:
        """Give what is asked after the last reading; *seen*: what opening it returned.

        Without it the round is looked at again.
        """
        if seen is None:
            seen = self.look()
        else:
            self._at = self.moment()
        choice = _choice(seen, card, conditions)
        after = seen.safety.card(
            str(card.id), str(who.id), self._at.isoformat(), choice
        )["after"]
        self._make_safe(seen, card, after["lines"], who)

    def _make_safe(
        self, seen: RoundSafety, card: Card, lines: Sequence[Json], who: Member
    ) -> None:
        """Give lines of after; where dc was on, the ground stays on for its time."""
        asked = [one for one in lines if one["state"] in NOT_GIVEN]
        if any(one["code"] == "P03a" for one in asked):
            dc_s = self.found.dc_s
            self.send(who.id, [self._act("dc_off", card=str(card.id), dc_s=dc_s)])
            self.wait(max(4 * dc_s, seen.book["settings"]["discharge_least_s"]))
        if asked:
            lines_given = self._lines(seen, "after", str(card.id), asked, who)
            self.send(who.id, list(lines_given))

    def hand_back(self, to: str) -> None:
        """Return every clearance of the lineup, and end the shift."""
        for isolation in self._standing("isolations"):
            self._return(isolation, to)
        self.end_shift()

    def end_shift(self) -> None:
        """End the shift; the clearance stands over night."""
        for crew in self._standing("crews"):
            self.send(self.crew[0].id, [self._act("end_crew", crew=crew["of"])])

    def _standing(self, what: str) -> list[Json]:
        seen = self.look()
        found: list[Json] = seen.safety.site(self._at.isoformat())[what]
        return [one for one in found if one["state"] != "ended"]

    def _return(self, isolation: Json, to: str) -> None:
        of = {"isolation": isolation["of"], "cells": None}
        self.send(self.crew[0].id, [self._act("open_return", **of)])
        (again,) = [
            one for one in self._standing("isolations") if one["of"] == isolation["of"]
        ]
        seen = self.look()
        lines = again["returning"]["lines"]
        acts = list(self._lines(seen, "return", isolation["of"], lines, self.crew[0]))
        self.send(self.crew[0].id, [*acts, self._act("hand_back", **of, to=to)])

    # Each reason, and what is done about it

    def _on_crew_none(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        crew = str(uuid4())
        yield self._act(
            "open_crew",
            crew=crew,
            lineups=[self._lineup],
            planned_end=(self._at + timedelta(hours=10)).isoformat(),
        )
        for register, rows in (("set", self.found.sets), ("place", self.found.places)):
            for fields in rows:
                yield self._item(register, crew, fields)

    _on_crew_ended = _on_crew_none

    def _on_crew_open(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        crew = standing["crew"]
        lines = [one for one in crew["lines"] if not self._personal(seen, one)]
        yield from self._lines(seen, "crew", crew["of"], lines, self.crew[0])
        for member in self.crew:
            yield from self._own(seen, "crew", crew["of"], member)

    _on_crew_lapsed = _on_crew_open

    def _on_crew_not_signed_on(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        yield from self._own(seen, "crew", standing["crew"]["of"], who)

    def _on_isolation_none(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        isolation = str(uuid4())
        section = card.cell.bus if self.found.sections else None
        yield self._act(
            "open_isolation",
            isolation=isolation,
            lineup=self._lineup,
            section=section,
            clearance=self.found.clearance,
        )
        for register, fields in self.found.items.get(section, ()):
            yield self._item(register, isolation, fields)

    _on_isolation_ended = _on_isolation_none

    def _on_isolation_open(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        isolation = standing["isolation"]
        lines = [one for one in isolation["lines"] if not self._personal(seen, one)]
        yield from self._lines(seen, "isolation", isolation["of"], lines, self.crew[0])

    _on_isolation_lapsed = _on_isolation_open

    def _on_isolation_not_signed_on(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        yield from self._own(seen, "isolation", standing["isolation"]["of"], who)

    def _on_point_not_entered(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        yield self._enter(standing, str(card.cell_id))

    _on_point_left = _on_point_not_entered

    def _on_point_open(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        point = standing["point"]
        yield from self._lines(seen, "point", point["of"], point["lines"], who)

    def _on_ground_off(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        """Make the other card safe first."""
        other = self.session.get_one(Card, UUID(facts["card"]))
        found = seen.safety.card(facts["card"], str(who.id), self._at.isoformat())
        self._make_safe(seen, other, found["after"]["lines"], who)
        return iter(())

    _on_springs_charged = _on_ground_off

    def _on_insulation_first(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        yield self._act(
            "override",
            scope="test",
            of=str(card.id),
            code="HV4",
            reason=self.found.noted.get("HV4", "the owner wants this test first"),
            names=[],
        )

    def _on_density_first(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        for cell in facts["cells"]:
            yield self._enter(standing, cell)
            asked = {"code": "HV6a", "item": None, "state": "open"}
            yield from self._lines(seen, "point", cell, [asked], who)

    def _on_test_open(
        self, seen: RoundSafety, standing: Json, card: Card, who: Member, facts: Json
    ) -> Iterator[Json]:
        lines = standing["test"]["lines"]
        yield from self._lines(seen, "test", str(card.id), lines, who)

    _on_asked_again = _on_test_open

    # Acts

    def _act(self, act: str, **members: Any) -> Json:
        self._at = self.moment()
        made = {"kind": "safety", "key": str(uuid4()), "act": act}
        return made | {"at": self._at.isoformat()} | members

    def _item(self, register: str, of: str, fields: Json) -> Json:
        item = str(uuid4())
        return self._act("list", register=register, of=of, item=item, fields=fields)

    def _enter(self, standing: Json, cell: str) -> Json:
        return self._act(
            "enter",
            cell=cell,
            isolation=standing["isolation"]["of"],
            crew=standing["crew"]["of"],
            stays={},
        )

    def _personal(self, seen: RoundSafety, line: Json) -> bool:
        return "person" in seen.book["lines"][line["code"]]["each"]

    def _own(
        self, seen: RoundSafety, scope: str, of: str, member: Member
    ) -> Iterator[Json]:
        codes = seen.book["crew" if scope == "crew" else "isolation"]
        lines = [{"code": code, "item": None, "state": "open"} for code in codes]
        own = [one for one in lines if self._personal(seen, one)]
        yield from self._lines(seen, scope, of, own, member)

    def _lines(
        self,
        seen: RoundSafety,
        scope: str,
        of: str,
        lines: Sequence[Json],
        who: Member,
    ) -> Iterator[Json]:
        members = {str(one.id): one for one in self.crew}
        for line in lines:
            if line["state"] in NOT_GIVEN:
                says = members.get(line["item"] or "", who)
                personal = self._personal(seen, line)
                yield self._act(
                    "line",
                    scope=scope,
                    of=of,
                    code=line["code"],
                    item=None if personal else line["item"],
                    state="confirmed",
                    reason=None,
                    noted=self._noted(seen, line["code"], of),
                    person=says.json,
                )

    def _noted(self, seen: RoundSafety, code: str, of: str) -> Json:
        noted = {}
        for name in seen.book["lines"][code]["fields"]:
            about = seen.book["fields"][name]
            given = self.found.noted
            value = given.get((code, name), given.get(name))
            value = value() if callable(value) else value
            if value is None and about["required"]:
                value = self._made_up(seen, name, of)
            if value is not None:
                noted[name] = value
        return noted

    def _made_up(self, seen: RoundSafety, name: str, of: str) -> Any:
        about = seen.book["fields"][name]
        to_come = timedelta(hours=10 if name in TO_COME else 0)
        by_kind: dict[str, Callable[[], Any]] = {
            "text": lambda: "as listed",
            "number": lambda: 2.0,
            "time": lambda: (self._at + to_come).isoformat(),
            "choice": lambda: about["choices"][0],
            "person": lambda: self.crew[1].json,
            "people": lambda: [one.json for one in self.crew],
            "grounds": lambda: self._grounds(seen, of),
            "cell": lambda: None,
        }
        return by_kind[about["kind"]]()

    def _grounds(self, seen: RoundSafety, of: str) -> list[str]:
        """Return the grounds of the isolation that covers the card or the cell."""
        numbers = {str(one.cell_id): one.cell.number for one in self._cards}
        cells = {str(one.id): str(one.cell_id) for one in self._cards}
        cell = cells.get(of, of)
        buses = {str(one.cell_id): one.cell.bus for one in self._cards}
        for isolation in seen.safety.site(self._at.isoformat())["isolations"]:
            if isolation["section"] in (None, buses.get(cell)):
                on = [g for g in isolation["grounds"] if not g["fields"].get("gone")]
                own = self.found.grounded_by.get(numbers.get(cell, ""))
                return [
                    one["item"]
                    for one in on
                    if own is None or one["fields"]["number"] in own
                ]
        return []

    @property
    def _cards(self) -> list[Card]:
        return self.session.get_one(Round, self.round_id).cards

    @property
    def _lineup(self) -> str:
        return str(self.session.get_one(Round, self.round_id).lineup_id)


def _as_kept(act: Json, who: Member) -> Json:
    """Return an act as the server will keep it."""
    return act | {"id": act["key"], "by": who.json, "device": ""}


def _choice(seen: RoundSafety, card: Card, conditions: Json | None) -> str | None:
    lists = seen.book["cards"].get(str(card.id))
    if lists is None or lists["by"] is None:
        return None
    return (conditions or {}).get(lists["by"])
