"""Acts of safety as a tablet makes them, on the scenario's site."""

from typing import Any
from uuid import uuid4

from models.schema import Person, Round
from models.services.field.accept_entries import accept_entries
from models.services.safety.keep_acts import Keeper
from tests.scenario import SITE, TECHNICIAN, Cast, Work, fixed_id, lineup_id

Act = dict[str, Any]
CELL = str(fixed_id(f"{SITE} cell 1"))


class Acting:
    """A crew that makes acts on the round of *work*; `crew` and `isolation` are ids."""

    def __init__(self, work: Work) -> None:
        """Make up the ids of what is going to be opened."""
        self.work = work
        self.crew, self.isolation = str(uuid4()), str(uuid4())
        self.lineup = str(lineup_id())

    def act(self, act: str, **members: Any) -> Act:
        """Return an act as a tablet makes it; *members* go before the defaults."""
        made = {
            "kind": "safety",
            "key": str(uuid4()),
            "at": self.work.at.isoformat(),
            "act": act,
        }
        return made | members

    def open_crew(self, **members: Any) -> Act:
        """Take charge of a shift."""
        given = {
            "crew": self.crew,
            "lineups": [self.lineup],
            "planned_end": "2026-03-03T07:00:00+00:00",
        }
        return self.act("open_crew", **given | members)

    def open_isolation(self, **members: Any) -> Act:
        """Take a clearance on the lineup."""
        given = {
            "isolation": self.isolation,
            "lineup": self.lineup,
            "section": None,
            "clearance": "4711",
        }
        return self.act("open_isolation", **given | members)

    def line(self, scope: str, of: str, code: str, **members: Any) -> Act:
        """Confirm a line."""
        given = {
            "scope": scope,
            "of": of,
            "code": code,
            "item": None,
            "state": "confirmed",
            "reason": None,
            "noted": {},
        }
        return self.act("line", **given | members)

    def send(self, *acts: Act, by: Cast = TECHNICIAN, device: str = "tablet 1") -> Any:
        """Send the acts as they are, and return the answers."""
        return accept_entries(
            self.work.session,
            person_id=by.id,
            round_id=self.work.round_id,
            device=device,
            entries=acts,
            now=self.work.at,
        )

    def keep(self, *acts: Act, by: Cast = TECHNICIAN) -> list[str]:
        """Keep the acts as one call would, whatever stands; return what became of each.

        Raises what an act is not taken for.
        """
        session = self.work.session
        site = session.get_one(Round, self.work.round_id).lineup.site
        person = session.get_one(Person, by.id)
        keeper = Keeper(session, site, person, device="tablet 1", now=self.work.at)
        found = [keeper.take(act) for act in acts]
        keeper.store()
        return found

    def store(self, *acts: Act, by: Cast = TECHNICIAN, device: str = "tablet 1") -> Any:
        """Send the acts, and insist that each is stored."""
        answers = self.send(*acts, by=by, device=device)
        refused = [a for a in answers if a["status"] != "stored"]
        assert not refused, [(a["status"], a["faults"]) for a in refused]
        return answers


def one_of_each(acting: Acting) -> list[Act]:
    """Return an act of each kind, the later ones about what the first ones open."""
    crew, isolation, stop = acting.crew, acting.isolation, str(uuid4())
    card = str(acting.work.card("bus", "insulation_resistance").id)
    return [
        acting.open_crew(),
        acting.act("extend_crew", crew=crew, lineups=[acting.lineup]),
        acting.open_isolation(),
        acting.act(
            "list",
            register="ground",
            of=isolation,
            item="g1",
            fields={"kind": "portable", "number": "G-2", "cells": [CELL]},
        ),
        acting.line("crew", crew, "G01a", noted={"employer": "Fathom Line Testing"}),
        acting.line(
            "isolation",
            isolation,
            "G08a",
            state="not_applicable",
            reason="no capacitor here",
        ),
        acting.act("enter", cell=CELL, isolation=isolation, crew=crew, stays={}),
        acting.line("point", CELL, "RS3a", noted={"side": "front"}),
        acting.line(
            "test",
            card,
            "T2",
            person={"id": None, "name": "Marit Osei"},
            noted={"volts": 2.5, "grounds": ["g1"]},
        ),
        acting.act("dc_off", card=card, dc_s=60),
        acting.act("change", what="lock", of=isolation, item="s1", cause="lock 7 off"),
        acting.act(
            "override",
            scope="test",
            of=card,
            code="HV4",
            reason="owner wants the withstand first",
            names=["Ida Plover"],
        ),
        acting.act("put_back", isolation=isolation, item="b1", torque="40 N m"),
        acting.act("leave", cell=CELL),
        acting.act("open_return", isolation=isolation, cells=[CELL]),
        acting.act("hand_back", isolation=isolation, cells=None, to="control room"),
        acting.act("sign_off", crew=crew),
        acting.act("stop", stop=stop),
        acting.act(
            "release",
            stop=stop,
            reason="the ladder is gone",
            put_right="taken away",
            agrees=True,
        ),
        acting.act("end_crew", crew=crew),
    ]
