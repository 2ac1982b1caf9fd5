"""Measure a time in a record: from a start to the change of a status channel."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from models.errors import InputError
from models.waveform.edges import Operation, operations
from models.waveform.read import Waveform
from models.waveform.refusal import refused
from models.waveform.starts import (
    ONSET,
    THRESHOLD_PCT,
    TRIGGER,
    Start,
    onset,
    start_of,
    step_at,
)

FIRST, LAST, BOUNCE = "first", "last", "bounce"
NORMAL, BEFORE = "normal", "before"
EDGES = {
    FIRST: "first change (trip; first touch in closing)",
    LAST: "last change of the operation (last parting in opening)",
    BOUNCE: "from the first change to the last (bounce)",
}
RESTS = {
    NORMAL: "its normal state in the record",
    BEFORE: "its state just before the start",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What is measured: *start* by its name and channel, *end* a status channel."""

    start: str
    start_place: int = -1
    end: int
    edge: str = FIRST
    rest: str = NORMAL
    threshold_pct: float = THRESHOLD_PCT
    after_s: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A time in seconds, how sure it is, and what has to be said with it."""

    start: Start
    end_s: float
    time_s: float
    unsure_s: float
    remarks: Sequence[str]


def measure(record: Waveform, choice: Choice) -> Measured:
    """Return the time; InputError at `start` or `end` says why there is none."""
    if not 0 <= choice.end < len(record.status):
        raise refused("Choose the channel at which the time ends.", "end")
    start = start_of(
        record,
        choice.start,
        choice.start_place,
        threshold_pct=choice.threshold_pct,
        after_s=choice.after_s,
    )
    begins = max(start.at_s, choice.after_s)
    first = int(np.searchsorted(record.time, begins - 1e-12))
    found = operations(
        record.time, record.states[choice.end], _rest(record, choice, first), first
    )
    counted = [one for one in found if not one.is_glitch]
    if not counted:
        raise refused(_no_change(record, choice, found), "end")
    taken = counted[0]
    _check_values(record, choice, start.at_s, taken.first_s)
    from_s = taken.first_s if choice.edge == BOUNCE else start.at_s
    end_s = taken.first_s if choice.edge == FIRST else taken.last_s
    edge_s = step_at(record, from_s) if choice.edge == BOUNCE else start.unsure_s
    return Measured(
        start=start,
        end_s=end_s,
        time_s=end_s - from_s,
        unsure_s=edge_s + step_at(record, end_s),
        remarks=[
            *_said_of_operations(record, choice, found, taken),
            *_said_of_trigger(record, choice, start),
        ],
    )


def _rest(record: Waveform, choice: Choice, first: int) -> int:
    """Return the state at rest; InputError where the channel has left it already."""
    channel, states = record.status[choice.end], record.states[choice.end]
    before = int(states[max(first - 1, 0)])
    if choice.rest == BEFORE:
        return before
    if before != channel.normal:
        raise refused(
            f"{channel.name} is away from its normal state ({channel.normal}) before "
            "the start already. Either it has operated, or the record has its normal "
            "state wrong: if the contact was at rest there, count from its state just "
            "before the start.",
            "end",
        )
    return channel.normal


def _no_change(record: Waveform, choice: Choice, found: Sequence[Operation]) -> str:
    name = record.status[choice.end].name
    pulses = f" but for {len(found)} pulses below 1 ms" if found else ""
    return (
        f"{name} does not change after the start, up to the end of the record at "
        f"{record.time[-1]:.6g} s{pulses}. Choose another channel; if the relay did "
        "not trip, record that on the card."
    )


def _said_of_operations(
    record: Waveform, choice: Choice, found: Sequence[Operation], taken: Operation
) -> list[str]:
    name = record.status[choice.end].name
    said = []
    glitches = [one for one in found if one.is_glitch and one.first_s < taken.first_s]
    if glitches:
        said.append(f"{name}: {len(glitches)} pulses below 1 ms are passed over.")
    if taken.last_s > taken.first_s and choice.edge != BOUNCE:
        length = (taken.last_s - taken.first_s) * 1000
        said.append(
            f"{name} bounces for {length:.3g} ms; the {choice.edge} change counts."
        )
    later = [one for one in found if one.first_s > taken.first_s and not one.is_glitch]
    if later:
        said.append(
            f"{name} operates {len(later) + 1} times after the start; the first "
            "counts. For a later one, look from a moment after it began."
        )
    return said


def _said_of_trigger(record: Waveform, choice: Choice, start: Start) -> list[str]:
    """Say where the current that changes most began at another moment."""
    if choice.start != TRIGGER or record.cycle_s is None or not record.analog:
        return []
    found = _onsets(record, choice)
    if not found or abs(found[0].at_s - start.at_s) <= 2 * found[0].unsure_s:
        return []
    by_ms = (found[0].at_s - start.at_s) * 1000
    when = "after" if by_ms > 0 else "before"
    return [
        f"The trigger is not where the current begins: that is {abs(by_ms):.4g} ms "
        f"{when} it ({found[0].by}). A trigger is often set by the relay's pickup "
        "or trip."
    ]


def _onsets(record: Waveform, choice: Choice) -> list[Start]:
    """Return the earliest onset of the analog channels that show one."""
    found = []
    for place in range(len(record.analog)):
        with suppress(InputError):
            found.append(onset(record, place, threshold_pct=choice.threshold_pct))
    return sorted(found, key=lambda one: one.at_s)


def _check_values(record: Waveform, choice: Choice, from_s: float, to_s: float) -> None:
    """Refuse missing values of the current between a cycle before start and the end."""
    if choice.start != ONSET:
        return
    values = record.values[choice.start_place]
    cycle = record.cycle_s or 0.0
    window = (record.time >= from_s - cycle) & (record.time <= to_s)
    if np.isnan(values[window]).any():
        raise refused(
            f"{record.analog[choice.start_place].name} has missing values between a "
            "cycle before the start and the end: the record does not show the current "
            "all the way. Choose another channel, the trigger or a start channel.",
            "start",
        )
