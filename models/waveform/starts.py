"""Where a time begins in a record: trigger, onset of an analog channel, a channel.

The moment at which an RMS value crosses the pickup is not offered: it comes later than
the current by up to 14 ms near the pickup (own synthetic records, run), so that a relay
without delay would look that much faster.
"""

import math
from dataclasses import dataclass

import numpy as np

from models.waveform.read import Waveform
from models.waveform.refusal import refused

THRESHOLD_PCT = 10.0  # of the greatest change within a cycle; common practice
LEAST_SHARE = 0.05  # of the peak; a smaller change is noise; common practice
THRESHOLDS_PCT = (5.0, 10.0, 20.0, 50.0)
TRIGGER, ONSET, CHANNEL = "trigger", "onset", "channel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """When the time begins, how sure that is in seconds, and by what, in words."""

    at_s: float
    unsure_s: float
    by: str


def start_of(
    record: Waveform, by: str, place: int, *, threshold_pct: float, after_s: float
) -> Start:
    """Return the start by *by*: trigger, onset or channel of number *place*.

    It is looked for from *after_s* on. Raises InputError at `start`.
    """
    if by == TRIGGER:
        return _trigger(record)
    if by == ONSET and 0 <= place < len(record.analog):
        return onset(record, place, threshold_pct=threshold_pct, after_s=after_s)
    if by == CHANNEL and 0 <= place < len(record.status):
        return _channel(record, place, after_s)
    raise refused("Choose where the time begins.", "start")


def step_at(record: Waveform, at_s: float) -> float:
    """Return the sampling period in seconds around a moment."""
    time = record.time
    index = min(max(int(np.searchsorted(time, at_s)), 1), len(time) - 1)
    return float(time[index] - time[index - 1])


def _trigger(record: Waveform) -> Start:
    at = record.configuration.trigger_s
    if at is None:
        raise refused(
            "The record's time of the trigger cannot be read. Choose the onset of the "
            "current, or a start channel.",
            "start",
        )
    if not 0 <= at <= record.time[-1]:
        raise refused(
            f"The trigger lies {at:.6g} s from the first sample, but the record "
            f"goes from 0 to {record.time[-1]:.6g} s: its stamps are wrong or in "
            "another unit. Choose the onset of the current, or a start channel.",
            "start",
        )
    return Start(at_s=at, unsure_s=step_at(record, at), by="the trigger of the record")


def _channel(record: Waveform, place: int, after_s: float) -> Start:
    channel, states = record.status[place], record.states[place]
    first = int(np.searchsorted(record.time, after_s - 1e-12))
    away = np.flatnonzero(states[first:] != channel.normal)
    if not away.size:
        raise refused(
            f"{channel.name} does not change in this record (from {after_s:.6g} s on): "
            "choose another start.",
            "start",
        )
    at = first + int(away[0])
    if at == 0 or states[at - 1] != channel.normal:
        raise refused(
            f"{channel.name} is away from its normal state ({channel.normal}) from the "
            "beginning: the record does not show when it began. Choose another start.",
            "start",
        )
    time = float(record.time[at])
    return Start(at_s=time, unsure_s=step_at(record, time), by=channel.name)


def onset(
    record: Waveform, place: int, *, threshold_pct: float, after_s: float = 0.0
) -> Start:
    """Return the first sample that differs from the one a cycle before it.

    By more than *threshold_pct* of the greatest such difference. A wave that begins at
    its zero crosses the threshold later by up to asin(threshold) of a cycle: that is
    part of how sure it is.
    """
    cycle = record.cycle_s
    name = record.analog[place].name
    if cycle is None:
        raise refused(
            "The record does not say its frequency, so no sample can be compared with "
            "the one a cycle before. Choose the trigger or a start channel.",
            "start",
        )
    time, values = record.time, record.values[place]
    first = int(np.searchsorted(time, max(after_s, cycle) - 1e-9))
    if first >= len(time):
        raise refused(
            "There is no cycle before the moment from which the onset is looked for: "
            "record at least one cycle before the fault.",
            "start",
        )
    before = np.interp(time[first:] - cycle, time, values)
    change = np.abs(values[first:] - before)
    least = LEAST_SHARE * float(np.nanmax(np.abs(values), initial=0.0))
    if not np.isfinite(change).any() or not np.nanmax(change) > least:
        raise refused(
            f"{name} does not change from one cycle to the next: choose the channel "
            "that carries the current, or look from an earlier moment.",
            "start",
        )
    threshold = threshold_pct / 100 * float(np.nanmax(change))
    crossed = first + int(np.flatnonzero(change > threshold)[0])
    _check_onset(record, place, change, first, crossed, threshold)
    at = float(time[crossed])
    late = math.asin(threshold_pct / 100) / (2 * math.pi) * cycle
    return Start(
        at_s=at,
        unsure_s=step_at(record, at) + late,
        by=f"the onset of {name}, {threshold_pct:g} % of its greatest change",
    )


def _check_onset(
    record: Waveform,
    place: int,
    change: np.ndarray[tuple[int], np.dtype[np.float64]],
    first: int,
    crossed: int,
    threshold: float,
) -> None:
    """Refuse an onset that lies before the first sample that can be compared."""
    cycle = record.cycle_s or 0.0
    time, name = record.time, record.analog[place].name
    until = int(np.searchsorted(time, time[crossed] + cycle))
    window = change[crossed - first : until - first]
    shown = time[first + int(np.flatnonzero(change > threshold)[-1])]
    at_once = crossed <= first + 1
    short = time[crossed] < 2 * cycle and shown - time[crossed] < 0.7 * cycle
    if at_once or short:
        raise refused(
            f"{name} changes within the first cycle that can be compared: there is "
            "less than one cycle before the fault. Record more of it, or choose the "
            "trigger or a start channel.",
            "start",
        )
    if np.isnan(window).any() or np.isnan(change[: crossed - first]).any():
        raise refused(
            f"{name} has missing values before or at its onset: the record does not "
            "show when the current began.",
            "start",
        )
