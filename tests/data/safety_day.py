"""A day at a site, told in few words: each call adds one act at a time of that day."""

from typing import Any

from tests.data.safety_book import CELL_OF, MARIT, TOBIAS

Json = dict[str, Any]
DAY = "2026-11-30"


def clock(text: str) -> str:
    """Return `9:05`, or `+1 9:05` for the day after, as a moment in UTC."""
    day, _, hour = text.rpartition(" ")
    date = f"2026-12-{int(day):02d}" if day else DAY
    hours, minutes, *seconds = hour.split(":")
    return f"{date}T{int(hours):02d}:{minutes}:{seconds[0] if seconds else '00'}Z"


class Day:
    """Acts and readings of one day; `by` and `at` hold until they are changed."""

    def __init__(self) -> None:
        self.acts: list[Json] = []
        self.readings: dict[str, list[Json]] = {}
        self.signed: dict[str, str | None] = {}
        self.found_good: dict[str, list[Json]] = {}
        self.by: Json = MARIT
        self.at = clock("7:00")

    def says(self, person: Json) -> "Day":
        """Let the acts that follow be said by somebody."""
        self.by = person
        return self

    def when(self, text: str) -> "Day":
        """Let the acts that follow be at this time."""
        self.at = clock(text)
        return self

    def act(self, act: str, **members: Any) -> "Day":
        """Add an act."""
        head = {
            "id": f"{len(self.acts):04d}",
            "at": self.at,
            "arrived_at": None,
            "device": "tablet",
            "by": MARIT if self.by["id"] is None else self.by,
        }
        if self.by["id"] is None:
            head["person"] = self.by
        self.acts.append({**head, "act": act, **members})
        return self

    def line(
        self, scope: str, of: str, code: str, item: str | None = None, **noted: Any
    ) -> "Day":
        """Confirm a line."""
        return self.act(
            "line",
            scope=scope,
            of=of,
            code=code,
            item=item,
            state="confirmed",
            reason=None,
            noted=noted,
        )

    def lines(self, scope: str, of: str, codes: str) -> "Day":
        """Confirm several lines at one moment."""
        for code in codes.split():
            self.line(scope, of, code)
        return self

    def waive(self, scope: str, of: str, code: str, reason: str) -> "Day":
        """Say that a line does not apply."""
        return self.act(
            "line",
            scope=scope,
            of=of,
            code=code,
            item=None,
            state="not_applicable",
            reason=reason,
            noted={},
        )

    def read(self, card: str, choice: str | None = None) -> "Day":
        """Record a reading."""
        row = {"at": self.at, "by": self.by, "superseded": False}
        self.readings.setdefault(card, []).append({**row, "choice": choice})
        return self

    def good(self, card: str) -> "Day":
        """Let the insulation of a card be found good."""
        self.found_good.setdefault(card, []).append({"at": self.at, "good": True})
        return self

    # What a crew does every morning.

    def crew(
        self,
        crew: str = "crew1",
        lineups: tuple[str, ...] = ("north",),
        first: Json = MARIT,
        second: Json = TOBIAS,
    ) -> "Day":
        """Open a crew with all its lines: *first* in charge, *second* beside."""
        before = self.by
        self.says(first).act(
            "open_crew", crew=crew, lineups=list(lineups), planned_end=clock("15:30")
        )
        self.line("crew", crew, "G01a").line("crew", crew, "G02a", person=second)
        self.lines("crew", crew, "G03a G23a")
        for lineup in lineups:
            self.line("crew", crew, "G15b", lineup)
        self.line("crew", crew, "G25b", releasers=[first, second])
        for person in (first, second):
            self.says(person).lines("crew", crew, "G01b G03b")
        return self.says(before)

    def item(self, register: str, of: str, item: str, **fields: Any) -> "Day":
        """Write an item onto a register."""
        return self.act("list", register=register, of=of, item=item, fields=fields)

    def clearance(
        self,
        isolation: str = "iso1",
        lineup: str = "north",
        section: str | None = "A",
        people: tuple[Json, ...] = (MARIT, TOBIAS),
        ground: str = "g1",
    ) -> "Day":
        """Take a clearance with one source and one portable ground."""
        before = self.by
        self.says(people[0]).act(
            "open_isolation",
            isolation=isolation,
            lineup=lineup,
            section=section,
            clearance="4711",
        )
        self.item("source", isolation, f"{isolation}-s1", lock="7")
        self.item("ground", isolation, ground, ground_kind="portable", number="G-2")
        self.line("isolation", isolation, "G04a", number="4711")
        self.line("isolation", isolation, "G05b")
        for code in ("G06b", "G07a"):
            self.line("isolation", isolation, code, f"{isolation}-s1")
        for code in ("G10d", "G13a"):
            self.line("isolation", isolation, code, ground)
        for person in people:
            self.says(person).line("isolation", isolation, "G04c")
        return self.says(before)

    def enter(
        self,
        cell: str,
        isolation: str | None = "iso1",
        crew: str = "crew1",
        **stays: str,
    ) -> "Day":
        """Enter a cell."""
        return self.act("enter", cell=cell, isolation=isolation, crew=crew, stays=stays)

    def dead(self, cell: str, grounds: tuple[str, ...] = ("g1",)) -> "Day":
        """Give the lines of presence of a cell: those that are asked at each entry."""
        self.line("point", cell, "RS3a").line("point", cell, "G10a", detector="D-12")
        self.line("point", cell, "G10b")
        return self.line("point", cell, "G13e", grounds=list(grounds))

    def cell(self, cell: str, **more: Any) -> "Day":
        """Enter a cell of the metal-clad lineup and give all its lines."""
        self.enter(cell, more.get("isolation", "iso1"), more.get("crew", "crew1"))
        self.dead(cell, more.get("grounds", ("g1",)))
        return self.line("point", cell, "G09a").line("point", cell, "G22a", count=6)

    def morning(self) -> "Day":
        """Let crew and clearance stand by 7:20, and cell 1 by 7:30."""
        self.when("7:00").crew().when("7:20").clearance()
        return self.when("7:30").cell("cell1")

    def scene(self) -> Json:
        """Return what a reader of safety is given, but for the book."""
        return {
            "acts": self.acts,
            "readings": self.readings,
            "signed": self.signed,
            "cells": CELL_OF,
            "found_good": self.found_good,
        }
