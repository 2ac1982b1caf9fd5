"""Acts, readings and signatures in order of time, each taken by the state."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from models.record.safety import card_acts, crew_acts, isolation_acts, point_acts
from models.record.safety.lapses import (
    cell_is_left,
    crew_ends,
    isolation_changes,
    isolation_falls,
    settle_crew,
    settle_isolation,
    settle_point,
)
from models.record.safety.people import person_key, speaker
from models.record.safety.state import State, StopInForce
from models.record.safety.times import HOUR, milliseconds, milliseconds_or_none

Json = Mapping[str, Any]
Take = Callable[[State, Json], None]

NEVER = float("inf")  # what waits on the tablet arrives after everything


class Event(NamedTuple):
    """One thing that happened; at one moment readings come after acts."""

    at: int
    rank: int
    arrived: float
    id: str
    kind: str  # act, signed, shift_over, permit_over, reading, found_good
    value: Json


def events(
    book: Json,
    acts: Sequence[Json],
    readings: Mapping[str, Sequence[Json]],
    signed: Mapping[str, str | None],
    found_good: Mapping[str, Sequence[Json]],
) -> list[Event]:
    """Return everything that happened in order of time."""
    found = [_of_act(act) for act in acts]
    longest = int(book["settings"]["shift_hours"] * HOUR)
    for act in acts:
        if act["act"] == "open_crew":
            over = milliseconds(act["at"]) + longest
            found.append(Event(over, 0, NEVER, act["crew"], "shift_over", act))
    found += [_permit_over(act) for act in acts if _permit_end(act) is not None]
    for card, at in signed.items():
        if at is not None:
            found.append(
                Event(milliseconds(at), 0, NEVER, card, "signed", {"card": card})
            )
    for card, turns in found_good.items():
        for turn in turns:
            value = {"card": card, "good": turn["good"]}
            at_ms = milliseconds(turn["at"])
            found.append(Event(at_ms, 2, NEVER, card, "found_good", value))
    for card, rows in readings.items():
        for index, row in enumerate(rows):
            value = {**row, "card": card, "index": index}
            at_ms = milliseconds(row["at"])
            found.append(Event(at_ms, 1, index, card, "reading", value))
    return sorted(found, key=lambda event: event[:4])


def _of_act(act: Json) -> Event:
    arrived = act.get("arrived_at")
    when = NEVER if arrived is None else milliseconds(arrived)
    return Event(milliseconds(act["at"]), 0, when, act["id"], "act", act)


def _permit_end(act: Json) -> int | None:
    """Return when the permit of a line ends, where it has one."""
    noted = act.get("noted") or {} if act["act"] == "line" else {}
    return milliseconds_or_none(noted.get("permit_end"))


def _permit_over(act: Json) -> Event:
    return Event(_permit_end(act) or 0, 0, NEVER, act["id"], "permit_over", act)


def take(state: State, event: Event) -> None:
    """Change the state by one thing that happened."""
    if event.kind == "act":
        ACTS[event.value["act"]](state, event.value)
    elif event.kind == "reading":
        row = event.value
        key = person_key(row["by"]) or ""
        card_acts.reading(state, row["card"], key, row.get("choice"), event.at)
    elif event.kind == "found_good":
        state.found_good[event.value["card"]] = event.value["good"]
    elif event.kind == "permit_over":
        crew_acts.permit_ends(state, event.value, event.at)
    elif event.kind == "signed":
        card_acts.signed(state, event.value["card"], event.at)
    else:
        crew_ends(state, state.crews[event.value["crew"]], event.at, "hours")


def _line(state: State, act: Json) -> None:
    before = state.lines.find(act["scope"], act["of"], act["code"], act.get("item"))
    state.lines.give(act)
    if act["scope"] == "crew":
        crew_acts.line_of_crew(state, act, before)
    elif act["scope"] == "isolation":
        isolation_acts.line_of_isolation(state, act, before)
    elif act["scope"] == "point":
        point_acts.line_of_point(state, act)
    elif act["scope"] == "test":
        card_acts.line_of_test(state, act)
    elif act["scope"] == "after":
        card_acts.line_of_after(state, act)
    elif act["code"] == "G22b":
        at = milliseconds(act["at"])
        point_acts.cell_changes(state, act["item"], "counted_out", at, None)


def _change(state: State, act: Json) -> None:
    of, word, at = act["of"], act["what"], milliseconds(act["at"])
    item, by = act.get("item"), speaker(act)["name"]
    if of in state.crews:
        state.lines.lapse("crew", of, word, at, item)
        settle_crew(state, state.crews[of], at, by, word)
    elif of in state.isolations:
        isolation_changes(state, state.isolations[of], word, at, by, item)
        if word == "ground":
            point_acts.ground_moves(state, item, at)
    elif of in state.book["point"] or of in state.points:
        point_acts.cell_changes(state, of, word, at, item)
    else:
        state.lines.lapse("test", of, word, at, item)


def _override(state: State, act: Json) -> None:
    state.lines.set_aside(act)
    of, at, by = act["of"], milliseconds(act["at"]), speaker(act)["name"]
    if of in state.crews:
        settle_crew(state, state.crews[of], at, by, "wider")
    elif of in state.isolations:
        settle_isolation(state, state.isolations[of], at, by, "wider")
    elif of in state.points:
        settle_point(state, state.points[of], at, by, "wider")


def _stop(state: State, act: Json) -> None:
    by, at = speaker(act)["name"], milliseconds(act["at"])
    state.stops[act["stop"]] = StopInForce(act["stop"], by, at, act["device"])


def _release(state: State, act: Json) -> None:
    """Let the work go on: everything near the gear is asked again."""
    if state.stops.pop(act["stop"], None) is None:
        return
    at = milliseconds(act["at"])
    for card in state.lines.places("test"):
        state.lines.lapse_all("test", card, "stop", at)
    for isolation in state.isolations.values():
        if isolation.stood and isolation.ended is None:
            isolation_falls(state, isolation, at, "stop", "stop")
    for cell in list(state.points):
        cell_is_left(state, cell, at, "stop")


ACTS: Mapping[str, Take] = {
    "open_crew": crew_acts.open_crew,
    "extend_crew": crew_acts.extend_crew,
    "end_crew": crew_acts.end_crew,
    "sign_off": crew_acts.sign_off,
    "open_isolation": isolation_acts.open_isolation,
    "list": isolation_acts.list_item,
    "put_back": isolation_acts.put_back,
    "open_return": isolation_acts.open_return,
    "hand_back": isolation_acts.hand_back,
    "line": _line,
    "override": _override,
    "enter": point_acts.enter,
    "leave": point_acts.leave,
    "change": _change,
    "stop": _stop,
    "release": _release,
    "dc_off": card_acts.dc_off,
}
