"""A worked day, played: the work is done, and each line that is asked is confirmed.

The program says what it asks; the player does the work in the order of the trade, never
does anything for the sake of a line, and confirms a line only if it is so by then.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from models.criteria.safety import (
    PlannedCard,
    Work,
    book_fields,
    book_lines,
    card_lists,
    crew_codes,
    isolation_codes,
    point_codes,
    return_codes,
)
from models.record.safety import Safety
from tests.data.safety_book import MARIT, TOBIAS

Json = dict[str, Any]
BEGIN = datetime(2026, 11, 30, 6, tzinfo=UTC)
OPEN = ("open", "lapsed")


def book_of(work: Work) -> Json:
    """Return the book of one lineup, made by the shipped lines."""
    point = {cell.id: point_codes(work, cell) for cell in work.cells}
    cards = {card.id: card_lists(work, card) for card in work.cards}
    codes = {*crew_codes([work]), *isolation_codes([work]), *return_codes()}
    codes |= {code for one in point.values() for code in one}
    for lists in cards.values():
        for one in lists["lists"].values():
            codes |= {*one["before"], *one["after"]}
    cells = {c.id: {"number": c.id, "name": "", "bus": c.bus} for c in work.cells}
    return {
        "settings": {"shift_hours": 14, "idle_minutes": 30, "discharge_least_s": 60},
        "lines": book_lines(codes),
        "fields": book_fields(),
        "crew": crew_codes([work]),
        "isolation": isolation_codes([work]),
        "returning": return_codes(),
        "point": point,
        "cards": cards,
        "lineups": {"lineup": {"name": "", "gear": work.gear, "cells": cells}},
    }


@dataclass
class Gear:
    """The gear as it stands, whatever was typed about it."""

    grounds_on: set[str] = field(default_factory=set)
    put_off: set[str] = field(default_factory=set)  # disconnected, not back yet
    output_on: bool = False
    dc_ends: datetime | None = None
    closed: bool = False  # a device with a charged or blocked spring
    ct_shorted: bool = False
    items_in: Counter[str] = field(default_factory=Counter)
    covers_off: set[str] = field(default_factory=set)
    at_work: set[str] = field(default_factory=set)  # people on the gear
    released: bool = False


class PlayedDay:
    """Two people, one clearance, one shift; *count*: confirmations by scope."""

    def __init__(self, work: Work, registers: Mapping[str, list[Json]]) -> None:
        self.work, self.registers = work, registers
        self.book = book_of(work)
        self.gear = Gear()
        self.now = BEGIN
        self.acts: list[Json] = []
        self.readings: dict[str, list[Json]] = {}
        self.good: dict[str, list[Json]] = {}
        self.count: Counter[str] = Counter()
        self.cell = ""  # where they are at work

    @property
    def at(self) -> str:
        return self.now.isoformat()

    def safety(self) -> Safety:
        cells = {card.id: card.cell for card in self.work.cards}
        return Safety(self.book, self.acts, self.readings, {}, cells, self.good)

    def wait(self, minutes: float) -> None:
        self.now += timedelta(minutes=minutes)

    def act(self, act: str, by: Json = MARIT, **members: Any) -> None:
        """Add an act that the core takes."""
        head = {"id": f"{len(self.acts):05d}", "at": self.at, "by": by}
        said = {**head, "arrived_at": None, "device": "tablet", "act": act, **members}
        assert self.safety().check(said, self.at) == []
        self.acts.append(said)

    def confirm(self, scope: str, of: str, lines: list[Json]) -> None:
        """Confirm the lines that are open, each if it is so."""
        safety = self.safety()
        for line in lines:
            if line["state"] in OPEN:
                self.wait(0.1)
                said = self._line(scope, of, line)
                assert safety.check(said, self.at) == [], (scope, of, line["code"])
                self.acts.append(said)
                self.count[scope] += 1

    def _line(self, scope: str, of: str, line: Json) -> Json:
        code, item = line["code"], line["item"]
        own = "person" in self.book["lines"][code]["each"]
        by = TOBIAS if own and item == "tobias" else MARIT
        assert self.is_so(code, of, item), f"{code} of {of} is not so"
        return {
            "id": f"{len(self.acts):05d}",
            "at": self.at,
            "by": by,
            "arrived_at": None,
            "device": "tablet",
            "act": "line",
            "scope": scope,
            "of": of,
            "code": code,
            "item": None if own else item,
            "state": "confirmed",
            "reason": None,
            "noted": self.noted(code, of),
        }

    def noted(self, code: str, of: str) -> Json:
        fields = self.book["lines"][code]["fields"]
        return {name: self._value(name, code, of) for name in fields}

    def _value(self, name: str, code: str, of: str) -> Any:
        one = self.book["fields"][name]
        if name == "permit_end":
            return (self.now + timedelta(hours=12)).isoformat()
        if one["kind"] == "choice":
            return one["choices"][0]
        known = {"text": "seen", "number": 1, "time": self.at, "person": TOBIAS}
        known |= {"people": [MARIT, TOBIAS], "cell": None}
        if one["kind"] == "grounds":
            return self.grounds_of(of) if code != "G13e" else [f"g{of}"]
        return known[one["kind"]]

    def card(self, card: str) -> PlannedCard:
        return next(one for one in self.work.cards if one.id == card)

    def grounds_of(self, card: str) -> list[str]:
        """Return what has to come off for a card: of its section for a bus."""
        planned = self.card(card)
        here = self.work.cell(planned.cell)
        assert here is not None
        cells = [c for c in self.work.cells if c.bus == here.bus]
        return [f"g{c.id}" for c in (cells if planned.kind == "bus" else [here])]

    def is_so(self, code: str, of: str, item: str | None) -> bool:
        """Return whether what a line says is so at this moment."""
        gear = self.gear
        if code in ("G13a", "G13b", "G13c", "G13d"):
            return item in gear.grounds_on
        if code == "G13e":
            return f"g{of}" in gear.grounds_on
        if code in ("T3", "HV3a"):
            return not gear.grounds_on.intersection(self.grounds_of(of))
        if code == "G14a":
            return gear.grounds_on.issuperset(self.grounds_of(of))
        if code in ("G22b", "P08a", "P08b") and item is not None:
            return not gear.items_in[item] and item not in gear.covers_off
        if code in ("R1", "P09b"):
            return not gear.at_work
        facts = {
            "P01a": not gear.output_on,
            "P01b": not gear.output_on,
            "T1": not gear.output_on,
            "T5": not gear.output_on,
            "VI3a": not gear.output_on,
            "P03a": gear.dc_ends is not None and self.now >= gear.dc_ends,
            "CR2a": gear.closed,
            "CR6": not gear.closed,
            "RS1a": gear.ct_shorted,
            "RS8": not gear.ct_shorted,
            "P04a": not gear.put_off,
            "P05a": not gear.put_off,
            "P06a": not gear.put_off,
            "P07a": not gear.grounds_on,
            "P07b": not gear.grounds_on,
            "P09a": gear.released,
        }
        return facts.get(code, True)

    # The day, from the briefing to the release.

    def begin(self) -> None:
        """Open the crew and take the clearance: grounds go on, then they are listed."""
        end = (self.now + timedelta(hours=9)).isoformat()
        self.act("open_crew", crew="crew", lineups=["lineup"], planned_end=end)
        self._list("crew", ("set", "place"))
        crew = self._site("crews")
        self.confirm("crew", "crew", crew["lines"])
        # Each signs on: nobody is of the crew before their first own line.
        for key in ("marit", "tobias"):
            have = {(one["code"], one["item"]) for one in self._site("crews")["lines"]}
            own = [c for c in self.book["crew"] if self._each(c) == ["person"]]
            lines = [
                {"code": code, "item": key, "state": "open"}
                for code in own
                if (code, key) not in have or self._is_open("crews", code, key)
            ]
            self.confirm("crew", "crew", lines)
        self.act(
            "open_isolation",
            isolation="iso",
            lineup="lineup",
            section=None,
            clearance="4711",
        )
        self.gear.grounds_on = {one["item"] for one in self.registers["ground"]}
        self._list("iso", ("source", "ground"))
        self.confirm("isolation", "iso", self._site("isolations")["lines"])
        for key in ("marit", "tobias"):
            line = {"code": "G04c", "item": key, "state": "open"}
            self.confirm("isolation", "iso", [line])
        self.gear.at_work = {"marit", "tobias"}

    def _each(self, code: str) -> list[str]:
        each: list[str] = self.book["lines"][code]["each"]
        return each

    def _is_open(self, scopes: str, code: str, item: str) -> bool:
        lines = self._site(scopes)["lines"]
        return any(
            (one["code"], one["item"]) == (code, item) and one["state"] in OPEN
            for one in lines
        )

    def _list(self, of: str, registers: tuple[str, ...]) -> None:
        for register in registers:
            for one in self.registers.get(register, []):
                self.act("list", register=register, of=of, **one)

    def _site(self, scopes: str) -> Json:
        found: Json = self.safety().site(self.at)[scopes][0]
        return found

    def enter(self, cell: str) -> None:
        """Enter a cell and give what is asked there."""
        self.wait(5)
        enter = {"cell": cell, "isolation": "iso", "crew": "crew", "stays": {}}
        self.act("enter", **enter)
        self.gear.items_in[cell] = 6
        self.gear.covers_off.add(cell)
        lines = self.safety().site(self.at)["points"][cell]["lines"]
        self.confirm("point", cell, lines)

    def visit(self, visits: str) -> None:
        """Do the cards of a cell at each visit, those of its bus by themselves."""
        for visit in visits.split():
            name, _, bus = visit.partition("-")
            if visit == "break":
                self.act("leave", cell=self.cell)
                self.wait(40)
                self.enter(self.cell)
                continue
            if name != self.cell:
                self.cell = name
                self.enter(self.cell)
            for card in cards_in(self.work, self.cell, bus=bool(bus)):
                if card not in self.readings:
                    self.test(card)

    def test(self, card: str) -> None:
        """Do one card: make ready, read, make safe."""
        lists = self.book["cards"][card]["lists"]
        choice = "ac" if "ac" in lists else next(iter(lists))
        before, after = lists[choice]["before"], lists[choice]["after"]
        self.wait(2)
        self._make_ready(card, before)
        self.confirm("test", card, self._lines(card, choice, "test"))
        found = self.safety().card(card, "marit", self.at, choice)
        assert found["open"], found["reasons"]
        self.gear.output_on = True
        self.read(card, choice)
        self.gear.output_on = False
        self._make_safe(card, after)
        self.wait(1)
        self.confirm("after", card, self._lines(card, choice, "after"))
        if "insulation" in card:
            self.good[card] = [{"at": self.at, "good": True}]

    def read(self, card: str, choice: str) -> None:
        """Take the readings of a card."""
        for _ in range(3):
            self.wait(2)
            row = {"at": self.at, "by": "marit", "choice": choice}
            self.readings.setdefault(card, []).append(row)

    def _lines(self, card: str, choice: str, scope: str) -> list[Json]:
        found = self.safety().card(card, "marit", self.at, choice)
        lines: list[Json] = found[scope]["lines"]
        return lines

    def _make_ready(self, card: str, before: list[str]) -> None:
        if {"T3", "HV3a"}.intersection(before):
            self.gear.grounds_on -= set(self.grounds_of(card))
        self.gear.closed = "CR2a" in before
        self.gear.ct_shorted = "RS1a" in before

    def _make_safe(self, card: str, after: list[str]) -> None:
        if "P03a" in after:
            self.act("dc_off", card=card, dc_s=60.0)
            self.gear.dc_ends = self.now + timedelta(minutes=4)
        self.gear.grounds_on |= set(self.grounds_of(card))
        self.gear.closed = self.gear.ct_shorted = False
        if "P03a" in after:
            self.wait(4)

    def give_back(self) -> None:
        """Put back what was off, count, tell, leave, and hand the clearance back."""
        self._list("iso", ("put_back",))
        self.wait(10)
        self.act("open_return", isolation="iso", cells=None)
        for one in self.registers["put_back"]:
            self.act("put_back", isolation="iso", item=one["item"], torque=None)
        self.gear.items_in.clear()
        self.gear.covers_off.clear()
        self.gear.grounds_on.clear()
        self.gear.at_work.clear()
        self.gear.released = True
        self.confirm("return", "iso", self._site("isolations")["returning"]["lines"])
        self.act("hand_back", isolation="iso", cells=None, to="Control room")


def cards_in(work: Work, cell: str, *, bus: bool) -> list[str]:
    """Return the cards of a cell: those of the bus, or all others."""
    return [
        one.id for one in work.cards if one.cell == cell and (one.kind == "bus") == bus
    ]
