"""What lines and readings on a card change."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.lapses import card_lapses
from models.record.safety.people import speaker_key
from models.record.safety.point_acts import grounds_of
from models.record.safety.state import State, Suspension
from models.record.safety.times import MINUTE, milliseconds

Json = Mapping[str, Any]


def line_of_test(state: State, act: Json) -> None:
    """Take a line of a card's test."""
    card, at = act["of"], milliseconds(act["at"])
    active(state, card, at)
    other_cards_are_left(state, card, speaker_key(act), at)
    cell = state.places.cell(card)
    if cell is not None:
        state.worked[cell] = at
    if act["state"] == "confirmed":
        _suspend(state, act, card, at)


def active(state: State, card: str, at: int) -> None:
    """Note that somebody works on a card; what waits too long before lapses."""
    done = state.card(card)
    idle = idle_since(state, card, at)
    if idle is not None:
        state.lines.lapse("test", card, "idle", idle)
    done.last_activity = at


def idle_since(state: State, card: str, at: int) -> int | None:
    """Return when a card had been idle for too long, None where it was not."""
    last = state.card(card).last_activity
    if last is None:
        return None
    over = last + int(state.book["settings"]["idle_minutes"] * MINUTE)
    return over if at > over else None


def other_cards_are_left(state: State, card: str, key: str, at: int) -> None:
    """Ask again the lines that this person gave on other cards."""
    for other in state.at_work.get(key, set()) - {card}:
        for given in state.lines.of("test", other):
            if given.by_key == key and given.code in state.book["lines"]:
                given.lapse("card_left", at)
    state.at_work[key] = {card}


def _suspend(state: State, act: Json, card: str, at: int) -> None:
    """Suspend what the line suspends, where the card can end it again."""
    suspends = state.book["lines"].get(act["code"], {}).get("suspends") or {}
    if not suspends or not _can_end(state, card, suspends["until"]):
        return
    cell, grounds = state.places.cell(card), None
    if suspends["code"] == "G13e":
        named = (act.get("noted") or {}).get("grounds")
        grounds = named or (grounds_of(state, cell) if cell else [])
    new = Suspension(suspends["code"], card, cell, grounds, suspends["until"], at)
    state.suspensions = [s for s in state.suspensions if not _same(s, new)]
    state.suspensions.append(new)


def _can_end(state: State, card: str, until: list[str]) -> bool:
    lists = state.lists(card)["lists"].values()
    return any(code in one["after"] for one in lists for code in until)


def _same(one: Suspension, other: Suspension) -> bool:
    return one.card == other.card and one.code == other.code


def line_of_after(state: State, act: Json) -> None:
    """Take a line of what is done after the readings; it makes the card safe."""
    card, at, code = act["of"], milliseconds(act["at"]), act["code"]
    active(state, card, at)
    done = state.card(card)
    if done.made_safe is None and done.readings:
        done.made_safe = at
        state.lines.lapse("test", card, "made_safe", at)
    if code == "G14a":
        state.lines.lapse("test", card, "grounds_back", at)
    state.suspensions = [
        s for s in state.suspensions if s.card != card or code not in s.until
    ]


def reading(state: State, card: str, key: str, choice: str | None, at: int) -> None:
    """Take a reading: what comes after the readings is asked again."""
    active(state, card, at)
    other_cards_are_left(state, card, key, at)
    done = state.card(card)
    done.readings += 1
    done.last_reading, done.made_safe = at, None
    done.choice = choice or done.choice
    discharged = state.lines.find("after", card, "P03a")
    done.last_discharge = discharged.at if discharged else None


def signed(state: State, card: str, at: int) -> None:
    """Close a card: it is signed."""
    card_lapses(state, card, "signed", at)


def dc_off(state: State, act: Json) -> None:
    """Begin the discharge timer of a card."""
    done = state.card(act["card"])
    done.dc_off, done.dc_s = milliseconds(act["at"]), float(act["dc_s"])
