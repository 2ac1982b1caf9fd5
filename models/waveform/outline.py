"""What is drawn of a record: the least and greatest value of each of a few columns."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from models.waveform.read import Waveform

COLUMNS = 560  # of a channel at most
POINTS = 3_000  # of all channels together
MOST_ANALOG = 8
MOST_STATUS = 12
MOST_SPELLS = 60  # of one channel


@dataclass(frozen=True, slots=True, kw_only=True)
class AnalogOutline:
    """A channel as joined points of seconds and value; *peak*: the greatest |value|."""

    place: int
    name: str
    unit: str
    points: Sequence[tuple[float, float]]
    peak: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StatusOutline:
    """The spells, in seconds, during which a status channel is 1."""

    place: int
    name: str
    normal: int
    spells: Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A record between two moments, in seconds; *left_out* channels are not drawn."""

    from_s: float
    to_s: float
    analog: Sequence[AnalogOutline]
    status: Sequence[StatusOutline]
    left_out: int


def outline(
    record: Waveform,
    *,
    from_s: float,
    to_s: float,
    analog: Sequence[int] = (),
    status: Sequence[int] = (),
) -> Outline:
    """Return what is drawn; the channels *analog* and *status* are among it."""
    drawn = _chosen(analog, _by_size(record), MOST_ANALOG)
    bars = _chosen(status, _by_change(record), MOST_STATUS)
    columns = min(COLUMNS, POINTS // max(1, len(drawn)))
    left_out = len(record.analog) + len(record.status) - len(drawn) - len(bars)
    return Outline(
        from_s=from_s,
        to_s=to_s,
        analog=[_analog(record, at, from_s, to_s, columns) for at in drawn],
        status=[_status(record, at, from_s, to_s) for at in bars],
        left_out=left_out,
    )


def first_changing(record: Waveform) -> int:
    """Return the analog channel that changes most against its own size; -1 for none."""
    order = _by_size(record)
    amperes = [at for at in order if record.analog[at].unit.upper().endswith("A")]
    return next(iter(amperes or order), -1)


def changing_status(record: Waveform) -> Sequence[int]:
    """Return the status channels that change, the others after them."""
    return _by_change(record)


def _chosen(wanted: Sequence[int], order: Sequence[int], most: int) -> list[int]:
    first = [at for at in wanted if at in order]
    return sorted(list(dict.fromkeys([*first, *order]))[:most])


def _by_size(record: Waveform) -> list[int]:
    """Return the analog channels, those that grow most within the record first."""
    growth = []
    for at, values in enumerate(record.values):
        size = np.nan_to_num(np.abs(values))
        lead = max(1, len(size) // 20)
        rest = float(size[:lead].max())
        growth.append((-(float(size.max()) - rest) / (rest + 1e-12), at))
    return [at for _, at in sorted(growth)]


def _by_change(record: Waveform) -> list[int]:
    changes = [
        (not bool(np.any(np.diff(one))), at) for at, one in enumerate(record.states)
    ]
    return [at for _, at in sorted(changes)]


def _analog(
    record: Waveform, place: int, from_s: float, to_s: float, columns: int
) -> AnalogOutline:
    channel, values = record.analog[place], record.values[place]
    first = max(int(np.searchsorted(record.time, from_s, "left")) - 1, 0)
    last = int(np.searchsorted(record.time, to_s, "right")) + 1
    time, part = record.time[first:last], np.nan_to_num(values[first:last])
    if len(time) > 2 * columns:
        time, part = _reduced(time, part, columns)
    points = list(zip(time.tolist(), part.tolist(), strict=True))
    peak = float(np.nanmax(np.abs(np.append(values, 0.0))))
    return AnalogOutline(
        place=place, name=channel.name, unit=channel.unit, points=points, peak=peak
    )


def _reduced(
    time: np.ndarray[tuple[int], np.dtype[np.float64]],
    part: np.ndarray[tuple[int], np.dtype[np.float64]],
    columns: int,
) -> tuple[
    np.ndarray[tuple[int], np.dtype[np.float64]],
    np.ndarray[tuple[int], np.dtype[np.float64]],
]:
    """Return the least and the greatest value of each column, one after the other."""
    begins = np.linspace(0, len(time), columns + 1).astype(int)[:-1]
    low = np.minimum.reduceat(part, begins)
    high = np.maximum.reduceat(part, begins)
    return np.repeat(time[begins], 2), np.column_stack((low, high)).ravel()


def _status(record: Waveform, place: int, from_s: float, to_s: float) -> StatusOutline:
    channel = record.status[place]
    steps = np.diff(np.concatenate(([0], record.states[place], [0])))
    time = np.append(record.time, record.time[-1])
    spells = [
        (max(float(time[a]), from_s), min(float(time[b]), to_s))
        for a, b in zip(
            np.flatnonzero(steps == 1), np.flatnonzero(steps == -1), strict=True
        )
        if time[b] >= from_s and time[a] <= to_s
    ]
    return StatusOutline(
        place=place,
        name=channel.name,
        normal=channel.normal,
        spells=_merged(spells, (to_s - from_s) / (2 * COLUMNS)),
    )


def _merged(spells: list[tuple[float, float]], gap: float) -> list[tuple[float, float]]:
    """Join spells that lie nearer than can be seen, until there are few."""
    while True:
        joined: list[tuple[float, float]] = []
        for begin, end in spells:
            if joined and begin - joined[-1][1] <= gap:
                joined[-1] = (joined[-1][0], end)
            else:
                joined.append((begin, end))
        if len(joined) <= MOST_SPELLS:
            return joined
        gap *= 4
