"""A worked day played on a tablet: the lineup, and a player whose acts the page keeps.

The player of `tests/models/record/safety/played_day.py` asks the page what stands, in
place of the core, and the page's own store records what the player confirms and reads:
without taps, which take 0.65 s a line. The tablet's time is the day's.
"""

import json
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any, cast
from uuid import UUID, uuid4

from playwright.sync_api import Page
from sqlalchemy.orm import Session

from models.criteria.safety import PlannedCard, Work
from models.criteria.safety.facts import cell_facts
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.record.safety import Safety
from models.schema import Card
from models.services.field.card_facts import round_cards
from models.services.setup.plan_round import plan_round
from tests.data.safety_book import MARIT, TOBIAS
from tests.models.record.safety.played_day import OPEN, Json, PlayedDay
from tests.scenario import (
    BREAKER,
    BUS,
    CONDITIONS,
    DW,
    INSTRUMENT_OF,
    IR,
    LEAD,
    RATINGS,
    RELAY,
    RT,
    SECOND,
    SITE,
    TECHNICIAN,
    UNIT_OF,
    VI,
    WITHIN,
    enter_lineup,
    fixed_id,
)

PLATES: dict[str, dict[str, Any]] = {
    "bus": BUS[2],
    "breaker": BREAKER[2],
    "relay": RELAY[2],
    "three_position_switch": {"conductor": "copper", "insulation": "solid"},
}
AS_READ = {IR: "41", "contact_resistance": "38.6", VI: "held", DW: "held"}
# Asked where the lineup does not say that there is no such thing.
OF_FACT = {"G09a": "springs", "CR3a": "cts"}
WAIVED: Json = {
    "item": None,
    "state": "not_applicable",
    "reason": "there is none here",
    "noted": {},
}
KEPT_AS_THEY_ARE = ("act", "scope", "code", "register")
OF_THE_ENTRY = ("id", "at", "by", "arrived_at", "device")

# The store of the page that is open, and its time: the day's, which stands still
# between two acts, as if the server's time had been heard that morning.
TAKE = """async (at) => {
  const { Store } = await import("/static/field/store.js");
  const own = Store.prototype.changed;
  const found = new Promise((resolve) => {
    Store.prototype.changed = function (how) {
      resolve(this);
      return own.call(this, how);
    };
  });
  dispatchEvent(new Event("offline"));
  const store = await found;
  Store.prototype.changed = own;
  window.day = { store, clock: Date.now, at };
  Date.now = () => window.day.at;
  store.clock.mark();
  return store.safety.book;
}"""
SITE_NOW = """(at) => {
  day.at = at;
  return JSON.stringify(day.store.safety.site());
}"""
CARD_NOW = """([at, id, choice]) => {
  day.at = at;
  return JSON.stringify(day.store.safety.card(id, choice));
}"""
RECORD = """(made) => made.flatMap(([at, what]) => {
  day.at = at;
  if (what.act) return day.store.safety.record(what);
  day.store.record(what);
  return [];
})"""
LEAVE = """async () => {
  await day.store.keep.written();
  Date.now = day.clock;
  return day.store.outbox.entries.length;
}"""


def open_day(session: Session, work: Work, began: datetime) -> UUID:
    """Enter the day's lineup, and open a round on it; return the round's id.

    Neither current nor voltage transformers are entered, as they would have cards of
    their own: where the former may stand they are asked for all the same.
    """
    lineup = fixed_id(work.gear)
    enter_lineup(session, SITE, lineup_of(work), lineup)
    return plan_round(
        session,
        person_id=LEAD.id,
        lineup_id=lineup,
        kind="acceptance",
        programme="Acceptance, any gear",
        now=began,
        new_id=uuid4,
    )


def lineup_of(work: Work) -> LineupDraft:
    """Return the lineup on which the work is done."""
    buses = dict.fromkeys(cell.bus for cell in work.cells)
    return LineupDraft(
        name=work.gear,
        gear=work.gear,
        ratings=RATINGS,
        sections=[SectionDraft(name=bus, rated_a=1200.0) for bus in buses],
        cells=[
            CellDraft(
                id=fixed_id(f"{work.gear} cell {cell.id}"),
                number=cell.id,
                name=f"Cell {cell.id}",
                kind=next(
                    (kind for kind in cell.kinds if kind not in ("bus", "relay", "ct")),
                    "blank",
                ),
                bus=cell.bus,
                apparatus=[
                    ApparatusDraft(
                        id=fixed_id(f"{work.gear} {cell.id} {kind}"),
                        kind=kind,
                        label=f"{kind} {cell.id}".replace("_", " "),
                        plate=PLATES[kind],
                    )
                    for kind in cell.kinds
                    if kind in PLATES
                ],
            )
            for cell in work.cells
        ],
    )


class TabletDay(PlayedDay):
    """The player of a worked day whose acts and readings the open page keeps."""

    def __init__(
        self,
        work: Work,
        registers: Mapping[str, list[Json]],
        cards: Mapping[str, Card],
        began: datetime,
    ) -> None:
        """*cards*: the cards of the round, by the player's names for them."""
        super().__init__(work, registers)
        self.now = began
        self.cards = cards
        self.stored = ids_of(work, cards)
        self.named = {stored: name for name, stored in self.stored.items()}
        self.entries = self.taken = 0
        self.made: list[Any] = []  # since the page was asked last, with their times

    def open(self, page: Page) -> None:
        """Go on at a page that has opened the round."""
        self.page = page
        self.book = self.from_page(page.evaluate(TAKE, self.ms))

    def leave(self) -> int:
        """Leave the page once all is kept, at the real time; return what waits."""
        self.record()
        waiting: int = self.page.evaluate(LEAVE)
        return waiting

    def record(self) -> None:
        """Let the page record what was made since; it takes all of it."""
        faults = self.page.evaluate(RECORD, self.made)
        assert faults == []
        self.entries += len(self.made)
        self.made.clear()

    def ask(self, question: str, asked: Any) -> Json:
        """Ask the page what stands, by all that was made until now."""
        self.record()
        found: Json = self.from_page(json.loads(self.page.evaluate(question, asked)))
        return found

    @property
    def ms(self) -> int:
        """The time of the day, as the tablet's clock shows it."""
        return round(self.now.timestamp() * 1000)

    def safety(self) -> Safety:
        """What stands, as the tablet says."""
        return cast(Safety, TabletSafety(self))

    def confirm(self, scope: str, of: str, lines: list[Json]) -> None:
        """Confirm the lines that are open; what is not there is waived."""
        here = self.work.cell(of) if scope == "point" else None
        facts = cell_facts(self.work, here) if here else {}
        absent = [code for code, fact in OF_FACT.items() if facts.get(fact) is False]
        super().confirm(scope, of, [one for one in lines if one["code"] not in absent])
        for one in lines:
            if one["code"] in absent and one["state"] in OPEN:
                self.act("line", scope=scope, of=of, code=one["code"], **WAIVED)

    def read(self, card: str, choice: str) -> None:
        """Read every point of a card."""
        stored = self.cards[card]
        texts = WITHIN[RT] if stored.procedure == RT else ()
        for n, point in enumerate(stored.points):
            self.wait(0.5)
            text = texts[n] if texts else AS_READ[stored.procedure]
            entry = {
                "kind": "reading",
                "card_id": str(stored.id),
                "point_id": str(point.id),
                "text": text,
                "unit": UNIT_OF[stored.procedure] if text[0].isdigit() else None,
                "conditions": CONDITIONS[stored.procedure],
                "instrument_id": str(fixed_id(INSTRUMENT_OF[stored.procedure])),
            }
            self.made.append([self.ms, entry])
            self.taken += 1
        self.readings[card] = [{"at": self.at, "by": "marit", "choice": choice}]

    def to_page(self, value: Any) -> Any:
        """Return what the player says, by the names that the round has."""
        if isinstance(value, dict):
            return {
                key: one if key in KEPT_AS_THEY_ARE else self.to_page(one)
                for key, one in value.items()
            }
        if isinstance(value, list):
            return [self.to_page(one) for one in value]
        return self.stored.get(value, value) if isinstance(value, str) else value

    def from_page(self, value: Any) -> Any:
        """Return what the page says, by the player's names."""
        if isinstance(value, dict):
            return {
                self.named.get(key, key): self.from_page(one)
                for key, one in value.items()
            }
        if isinstance(value, list):
            return [self.from_page(one) for one in value]
        return self.named.get(value, value) if isinstance(value, str) else value


class TabletSafety:
    """What stands on the tablet, asked as the core is asked."""

    def __init__(self, day: TabletDay) -> None:
        self.day = day

    def site(self, _at: str) -> Json:
        """What stands on the site."""
        return self.day.ask(SITE_NOW, self.day.ms)

    def card(self, card: str, _person: str, _at: str, choice: str) -> Json:
        """What stands for a card."""
        day = self.day
        return day.ask(CARD_NOW, [day.ms, day.stored[card], choice])

    def check(self, said: Json, _at: str) -> list[Json]:
        """Put an act to what the tablet records next, where it has to take it."""
        members = {key: one for key, one in said.items() if key not in OF_THE_ENTRY}
        act = self.day.to_page({**members, "person": said["by"]})
        self.day.made.append([self.day.ms, act])
        return []


def ids_of(work: Work, cards: Mapping[str, Card]) -> dict[str, str]:
    """Return the ids of what the player names."""
    return {
        "crew": str(uuid4()),
        "iso": str(uuid4()),
        "lineup": str(fixed_id(work.gear)),
        MARIT["id"]: str(TECHNICIAN.id),
        MARIT["name"]: TECHNICIAN.name,
        TOBIAS["id"]: str(SECOND.id),
        TOBIAS["name"]: SECOND.name,
        **{
            cell.id: str(fixed_id(f"{work.gear} cell {cell.id}")) for cell in work.cells
        },
        **{name: str(card.id) for name, card in cards.items()},
    }


def cards_of_day(session: Session, work: Work, round_id: UUID) -> dict[str, Card]:
    """Return the cards of the round by the player's names; they are the day's."""
    found = {
        (str(card.apparatus_id), card.procedure): card
        for card in round_cards(session, round_id)
    }
    planned = {_planned(work, one): one.id for one in work.cards}
    assert found.keys() == planned.keys()
    return {planned[key]: card for key, card in found.items()}


def _planned(work: Work, card: PlannedCard) -> tuple[str, str]:
    return str(fixed_id(f"{work.gear} {card.apparatus}")), card.procedure


def shift_began(now: datetime, hours: float) -> datetime:
    """Return when a shift began so many hours ago."""
    return (now - timedelta(hours=hours)).replace(microsecond=0)
