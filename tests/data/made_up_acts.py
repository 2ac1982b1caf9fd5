"""Acts of safety that nobody would do in this order: for two readers of them.

Both are held to one answer on them; whether it is a sensible one is seen elsewhere.
"""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Any

from tests.data.safety_book import BOOK, CELL_OF, INES, MARIT, PAVEL, TOBIAS

Json = dict[str, Any]
BEGIN = datetime(2026, 11, 30, 7, tzinfo=UTC)
PEOPLE = (MARIT, TOBIAS, INES, PAVEL)
CREWS, ISOLATIONS = ("crew1", "crew2"), ("iso1", "iso2")
ITEMS = {"source": ("s1", "s2"), "ground": ("g1", "g2"), "lineup": ("north",)}
WORDS = sorted({w for line in BOOK["lines"].values() for w in line["lapses"]})
STEPS_MIN = (0, 0.2, 1, 3, 3, 10, 40)
STEPS = (
    *("crew", "crew", "isolation", "isolation", "cell", "cell", "cell"),
    *("card", "card", "card", "card", "test", "after", "after", "reading", "reading"),
    *("change", "list", "leave", "sign_off", "end", "stop", "release"),
    *("override", "return_", "hand_back", "dc_off", "sign", "good"),
)


def made_up_safety(seed: int, count: int) -> Iterator[Json]:
    """Yield scenes with what is asked in each: {acts, readings, ..., asks}."""
    random = Random(seed)
    for _ in range(count):
        yield _MadeUp(random).scene(random.randint(5, 70))


class _MadeUp:
    def __init__(self, random: Random) -> None:
        self.random = random
        self.minute = 0.0
        self.acts: list[Json] = []
        self.readings: dict[str, list[Json]] = {}
        self.signed: dict[str, str | None] = {}
        self.found_good: dict[str, list[Json]] = {}

    def scene(self, steps: int) -> Json:
        self.open()
        for _ in range(steps):
            self.minute += self.random.choice(STEPS_MIN)
            getattr(self, self.random.choice(STEPS))()
        tried = [{"check": act, "at": act["at"]} for act in self.acts[::4]]
        asks = [ask for _ in range(4) for ask in self.asks()]
        return {
            "acts": self.random.sample(self.acts, len(self.acts)),
            "readings": self.readings,
            "signed": self.signed,
            "cells": CELL_OF,
            "found_good": self.found_good,
            "asks": [*asks, *tried],
        }

    def asks(self) -> Iterator[Json]:
        at = self.moment(self.random.uniform(0, self.minute + 60))
        yield {"site": True, "at": at}
        for person in ("marit", "name:pavel lind"):
            choice = self.random.choice((None, "ac", "dc"))
            yield {"card": self.a_card(), "person": person, "at": at, "choice": choice}

    def moment(self, minute: float) -> str:
        return (BEGIN + timedelta(seconds=round(minute * 60))).isoformat()

    def a_card(self) -> str:
        return self.random.choice(list(BOOK["cards"]))

    def a_cell(self) -> str:
        return self.random.choice(list(BOOK["point"]))

    def act(self, act: str, by: Json | None = None, **members: Any) -> None:
        by = by or self.random.choice(PEOPLE)
        late = self.minute + self.random.uniform(0, 20)
        head = {
            "id": f"{self.random.getrandbits(40):010x}",
            "at": self.moment(self.minute),
            "arrived_at": self.random.choice((None, self.moment(late))),
            "device": "tablet",
            "by": by if by["id"] else MARIT,
        }
        if by["id"] is None:
            head["person"] = by
        self.acts.append({**head, "act": act, **members})

    def line(
        self,
        scope: str,
        of: str,
        code: str,
        item: str | None = None,
        by: Json | None = None,
    ) -> None:
        state = self.random.choice(("confirmed",) * 7 + ("not_applicable",))
        where = {"scope": scope, "of": of, "code": code, "item": item}
        said = {"state": state, "reason": None, "noted": self.noted(code)}
        self.act("line", by, **where, **said)

    def noted(self, code: str) -> Json:
        people = self.random.sample(PEOPLE, 2)
        grounds = self.random.sample(("g1", "g2"), self.random.randint(0, 2))
        named: dict[str, Json] = {
            "G02a": {"person": people[0]},
            "G25b": {"releasers": people},
            "G04a": {"number": "4711"},
            "G10a": {"detector": "D-12"},
            "G13e": {"grounds": grounds, "lender": self.a_cell()},
            "T3": {"grounds": grounds},
            "G22a": {"count": self.random.choice((6, "six", None))},
        }
        return named.get(code, {})

    def open(self) -> None:
        self.act(
            "open_crew", crew="crew1", lineups=["north"], planned_end=self.moment(500)
        )
        self.act(
            "open_isolation",
            isolation="iso1",
            lineup="north",
            section="A",
            clearance="4711",
        )
        for register, item in (("source", "s1"), ("source", "s2"), ("ground", "g1")):
            fields = {"kind": "portable"} if register == "ground" else {"lock": "7"}
            self.act("list", register=register, of="iso1", item=item, fields=fields)

    def crew(self) -> None:
        of = self.random.choice(CREWS)
        if self.random.random() < 0.1:
            lineups = self.random.choice((["north"], ["north", "ring"]))
            end = self.moment(self.minute + 400)
            self.act("open_crew", crew=of, lineups=lineups, planned_end=end)
        if self.random.random() < 0.1:
            self.act("extend_crew", crew=of, lineups=["ring"])
        self.lines_of("crew", of, BOOK["crew"])

    def isolation(self) -> None:
        of = self.random.choice(ISOLATIONS)
        if self.random.random() < 0.1:
            lineup, section = self.random.choice((("north", "B"), ("ring", None)))
            where = {"isolation": of, "lineup": lineup, "section": section}
            self.act("open_isolation", **where, clearance="4712")
        self.lines_of("isolation", of, BOOK["isolation"])

    def lines_of(self, scope: str, of: str, codes: list[str]) -> None:
        for code in codes:
            each = BOOK["lines"][code]["each"]
            if "person" in each:
                for person in PEOPLE[:3]:
                    self.line(scope, of, code, by=person)
                continue
            for item in ITEMS.get(each[0], ()) if each else (None,):
                self.line(scope, of, code, item)

    def cell(self) -> None:
        cell, by = self.a_cell(), self.random.choice(PEOPLE)
        isolation = self.random.choice((*ISOLATIONS, "iso1", None))
        stays = self.random.choice(({}, {"cell1": "Ines Roth"}))
        crew = self.random.choice(CREWS)
        where = {"cell": cell, "isolation": isolation, "crew": crew, "stays": stays}
        self.act("enter", by, **where)
        for code in BOOK["point"][cell]:
            self.line("point", cell, code, by=by)

    def card(self) -> None:
        card = self.a_card()
        lists = self.random.choice(list(BOOK["cards"][card]["lists"].values()))
        for code in lists["before"]:
            self.line("test", card, code)

    def test(self) -> None:
        code = self.random.choice(("T2", "T3", "T5", "CR2a", "T9", "HV3a"))
        self.line("test", self.a_card(), code)

    def after(self) -> None:
        code = self.random.choice(("P01a", "G14a", "CR6", "P03a", "BT4"))
        self.line("after", self.a_card(), code)

    def reading(self) -> None:
        choice = self.random.choice((None, "ac", "dc"))
        by = self.random.choice((*PEOPLE, "marit"))
        row = {"at": self.moment(self.minute), "by": by, "choice": choice}
        self.readings.setdefault(self.a_card(), []).append(row)

    def change(self) -> None:
        of = self.random.choice((*CREWS, *ISOLATIONS, self.a_cell(), self.a_card()))
        item = self.random.choice((None, None, "g1", "s1", "north"))
        what = self.random.choice((*WORDS, "lock", "boundary", "clearance"))
        self.act("change", what=what, of=of, item=item, cause="seen")

    def list(self) -> None:
        register = self.random.choice(("source", "ground", "put_back", "set", "place"))
        kind = self.random.choice(("portable", "switch", "ct", "hv"))
        fields = self.random.choice(({"kind": kind}, {"gone": True}))
        of = self.random.choice((*CREWS, *ISOLATIONS))
        item = self.random.choice(("s1", "s2", "g1", "g2", "x"))
        self.act("list", register=register, of=of, item=item, fields=fields)
        if register == "put_back":
            self.act("put_back", isolation="iso1", item=item, torque=None)

    def leave(self) -> None:
        self.act("leave", cell=self.a_cell())

    def sign_off(self) -> None:
        self.act("sign_off", crew=self.random.choice(CREWS))

    def end(self) -> None:
        if self.random.random() < 0.4:
            self.act("end_crew", crew=self.random.choice(CREWS))

    def stop(self) -> None:
        self.act("stop", stop="stop1")
        if self.random.random() < 0.7:
            self.release()

    def release(self) -> None:
        agrees = self.random.random() < 0.6
        why = {"reason": "looked at", "put_right": "a lead was moved"}
        self.act("release", stop="stop1", agrees=agrees, **why)

    def override(self) -> None:
        scope, of, code = self.random.choice(
            (
                ("test", "acw1", "HV4"),
                ("test", self.a_card(), "T2"),
                ("point", self.a_cell(), "G13e"),
                ("crew", "crew1", "G23a"),
                ("after", self.a_card(), "P03a"),
            )
        )
        names = self.random.choice((["Ines Roth", "Otto Heron"], ["Ines Roth"], []))
        why = {"reason": "seen by two", "names": names}
        self.act("override", scope=scope, of=of, code=code, **why)

    def return_(self) -> None:
        of, cells = (
            self.random.choice(ISOLATIONS),
            self.random.choice((None, ["cell1"])),
        )
        self.act("open_return", isolation=of, cells=cells)
        for code in BOOK["returning"]:
            of_cell = "cell" in BOOK["lines"][code]["each"]
            self.line("return", of, code, "cell1" if of_cell else None)

    def sign(self) -> None:
        self.signed[self.a_card()] = self.moment(self.minute)

    def hand_back(self) -> None:
        of, cells = (
            self.random.choice(ISOLATIONS),
            self.random.choice((None, ["cell1"])),
        )
        self.act("hand_back", isolation=of, cells=cells, to="the control room")

    def dc_off(self) -> None:
        seconds = self.random.choice((30, 60.5, 600))
        self.act("dc_off", card=self.a_card(), dc_s=seconds)

    def good(self) -> None:
        row = {"at": self.moment(self.minute), "good": self.random.random() < 0.8}
        self.found_good.setdefault(self.a_card(), []).append(row)
