"""A curve of one channel of a record, as the row of readings that a point keeps."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from models.judging.quantities import UNITS, convert, unit_name
from models.judging.series import Series, Step, parse_series
from models.waveform.read import Waveform
from models.waveform.refusal import refused

NO_NOISE = 0.05  # of the peak: less on the wrong side of zero is noise; ours


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """Samples of one quantity: *time_ms* rises, *values* are in *unit* as written."""

    name: str
    unit: str
    time_ms: NDArray[np.float64]
    values: NDArray[np.float64]


def channels_of(record: Waveform) -> list[Channel]:
    """Return the analog channels of a waveform record."""
    return [
        Channel(name=one.name, unit=one.unit, time_ms=record.time * 1000, values=values)
        for one, values in zip(record.analog, record.values, strict=True)
    ]


def per_unit(channel: Channel, kind: Series) -> float | None:
    """Return what one of the channel's unit is in that of the row; None: unknown."""
    unit = unit_name(channel.unit)
    if unit is None or UNITS[unit].quantity != UNITS[kind.unit].quantity:
        return None
    return convert(1.0, unit, kind.unit)


def row_text(
    channel: Channel,
    kind: Series,
    *,
    from_ms: float,
    to_ms: float,
    factor: float,
) -> str:
    """Return the samples between two moments as a row that counts from the first.

    What is more than a row can hold is thinned: of each spell its least and its
    greatest sample stay. Raises InputError at `from` where nothing is left.
    """
    chosen = (channel.time_ms >= from_ms) & (channel.time_ms <= to_ms)
    chosen &= np.isfinite(channel.values)
    time, values = channel.time_ms[chosen], channel.values[chosen] * factor
    if len(time) < 2:
        raise refused("There are fewer than two samples between these moments.", "from")
    if not kind.signed:
        values = _above_zero(channel, values)
    places = _thinned(values, kind.most)
    return _written(time[places] - time[0], values[places], kind)


def row_steps(kind: Series, text: str) -> Sequence[Step]:
    """Return a row as its steps; InputError where it can be none."""
    return parse_series(kind.name, text)


def _above_zero(channel: Channel, values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turn a channel round that was connected the wrong way; drop noise about zero."""
    turned = -values if -values.min() > values.max() else values
    if -turned.min() > NO_NOISE * max(turned.max(), 1e-12):
        raise refused(
            f"{channel.name} goes to both sides of zero: it is no direct current. "
            "Choose another channel, or other moments.",
            "channel",
        )
    above: NDArray[np.float64] = np.maximum(turned, 0.0)
    return above


def _thinned(values: NDArray[np.float64], most: int) -> NDArray[np.int64]:
    if len(values) <= most:
        return np.arange(len(values))
    ends = np.linspace(1, len(values) - 1, (most - 2) // 2 + 1).astype(int)
    places = {0, len(values) - 1}
    for first, last in pairwise(ends):
        spell = values[first:last]
        if len(spell):
            places |= {first + int(spell.argmin()), first + int(spell.argmax())}
    return np.array(sorted(places))


def _written(
    time: NDArray[np.float64], values: NDArray[np.float64], kind: Series
) -> str:
    """Return pairs within the row's length, with as many digits as there is room."""
    for digits in (4, 3):
        pairs: dict[str, str] = {}
        for at, value in zip(time, values, strict=True):
            pairs.setdefault(f"{round(at, 2):g}", f"{value:.{digits}g}")
        text = " ".join(f"{at}:{value}" for at, value in pairs.items())
        if len(text) <= kind.longest:
            return text
    raise refused("The curve is too long for a row: choose moments nearer together.")
