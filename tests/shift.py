"""A shift at work on a round that goes by its scopes: whatever is asked is given.

    shift = Shift(work)             # the round of tests.scenario.Work
    shift.open()                    # crew, clearance, the one cell
    shift.before("bus", IR)         # the lines of a card's test
    work.read("bus", IR, "9.0")
    shift.after("bus", IR)          # what is asked after its readings

What is asked is read off the standings, so that the lines may change.
"""

from typing import Any

from models.schema import Round
from models.services.keeping.log import stamp
from models.services.safety.round_safety import RoundSafety, safety_of_round
from tests.models.services.safety.acting import CELL, Act, Acting
from tests.scenario import SECOND, TECHNICIAN, Cast, Work

NOT_GIVEN = ("open", "lapsed")
GROUND = "g1"
DISCHARGE_S = 600.0  # a clock is moved on by this before P03a


class Shift(Acting):
    """Two people, one clearance, one cell; every line is given as it is asked."""

    def __init__(
        self, work: Work, *, first: Cast = TECHNICIAN, second: Cast = SECOND
    ) -> None:
        """*first* is in charge, holds the clearance and the tablet."""
        super().__init__(work)
        self.first, self.second = first, second

    @property
    def standing(self) -> RoundSafety:
        """What stands now."""
        session = self.work.session
        round_ = session.get_one(Round, self.work.round_id)
        return safety_of_round(session, round_, now=self.work.at)

    def open(self) -> None:
        """Open crew, clearance and cell, with all that they ask."""
        self.open_the_crew()
        self.open_the_isolation()
        self.enter()

    def open_the_crew(self) -> None:
        """Brief, and let both sign in."""
        self.store(self.open_crew(), by=self.first)
        second = {"id": str(self.second.id), "name": self.second.name}
        book = self.standing.book
        people = [
            code for code in book["crew"] if "person" in book["lines"][code]["each"]
        ]
        own = {"crew": self.crew, "noted": {"person": second}}
        self._give("crew", self.crew, self._asked("crews"), own["noted"])
        for code in people:
            self._line("crew", self.crew, code)
            self._line("crew", self.crew, code, person=second)

    def open_the_isolation(self) -> None:
        """Take the clearance, list a source and a ground, lock and ground them."""
        self._tick_and_store(
            self.open_isolation(),
            self.act(
                "list",
                register="source",
                of=self.isolation,
                item="s1",
                fields={"source_kind": "line", "name": "incomer"},
            ),
            self.act(
                "list",
                register="ground",
                of=self.isolation,
                item=GROUND,
                fields={"ground_kind": "portable", "number": "G-2"},
            ),
        )
        self._give("isolation", self.isolation, self._asked("isolations"))
        book = self.standing.book
        for code in book["isolation"]:
            if "person" in book["lines"][code]["each"]:
                self._line("isolation", self.isolation, code)

    def enter(self) -> None:
        """Enter the cell, and give what it asks."""
        self._tick_and_store(
            self.act(
                "enter", cell=CELL, isolation=self.isolation, crew=self.crew, stays={}
            )
        )
        site: Any = self.standing.safety.site(stamp(self.work.at))
        lines = [(one["code"], one["item"]) for one in open_lines(site["points"][CELL])]
        self._give("point", CELL, lines)

    def card_standing(
        self, label: str, procedure: str, choice: str | None = None
    ) -> dict[str, Any]:
        """Return what stands for a card, for who is in charge."""
        card = str(self.work.card(label, procedure).id)
        at = stamp(self.work.at)
        return self.standing.safety.card(card, str(self.first.id), at, choice)

    def before(self, label: str, procedure: str, choice: str | None = None) -> None:
        """Give the lines of a card's test."""
        found = self.card_standing(label, procedure, choice)["test"]
        card = str(self.work.card(label, procedure).id)
        lines = [(one["code"], None) for one in open_lines(found)]
        self._give("test", card, lines)

    def after(self, label: str, procedure: str) -> None:
        """Give what is asked after the readings, the timer waited for."""
        card = str(self.work.card(label, procedure).id)
        found = self.card_standing(label, procedure)["after"]
        if "P03a" in [one["code"] for one in open_lines(found)]:
            self._tick_and_store(self.act("dc_off", card=card, dc_s=60))
            self.work.tick(seconds=DISCHARGE_S)
        lines = [(one["code"], None) for one in open_lines(found)]
        self._give("after", card, lines)

    def _asked(self, what: str) -> list[tuple[str, str | None]]:
        site: Any = self.standing.safety.site(stamp(self.work.at))
        found = site[what][-1]
        each = self.standing.book["lines"]
        return [
            (one["code"], one["item"])
            for one in open_lines(found)
            if "person" not in each[one["code"]]["each"]
        ]

    def _give(
        self,
        scope: str,
        of: str,
        lines: list[tuple[str, str | None]],
        noted: dict[str, Any] | None = None,
    ) -> None:
        for code, item in lines:
            self._line(scope, of, code, item=item, known=noted)

    def _line(
        self,
        scope: str,
        of: str,
        code: str,
        *,
        item: str | None = None,
        known: dict[str, Any] | None = None,
        person: dict[str, Any] | None = None,
    ) -> None:
        noted = self._noted(code) | (known or {})
        more = {"person": person} if person else {}
        self._tick_and_store(self.line(scope, of, code, item=item, noted=noted, **more))

    def _noted(self, code: str) -> dict[str, Any]:
        """Return something for every field of a line."""
        book = self._book
        me = {"id": str(self.first.id), "name": self.first.name}
        by_kind: dict[str, Any] = {
            "text": "as written",
            "number": 1,
            "time": stamp(self.work.at),
            "person": me,
            "people": [me],
            "grounds": [GROUND],
            "cell": CELL,
        }
        fields = book["fields"]
        return {
            name: fields[name]["choices"][0]
            if fields[name]["kind"] == "choice"
            else by_kind[fields[name]["kind"]]
            for name in book["lines"][code]["fields"]
        }

    @property
    def _book(self) -> Any:
        if not hasattr(self, "_kept"):
            self._kept = self.standing.book
        return self._kept

    def _tick_and_store(self, *acts: Act) -> None:
        for act in acts:
            self.work.tick(seconds=5)
            self.store(act | {"at": self.work.at.isoformat()}, by=self.first)


def open_lines(scope: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the lines of a standing that are still to be given."""
    return [one for one in scope["lines"] if one["state"] in NOT_GIVEN]
