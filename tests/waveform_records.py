"""Made-up waveform records whose true times are known, in every revision and type.

The true instants are set, not sampled: a reader finds the next sample after them.
"""

import math
import struct
from collections.abc import Sequence
from dataclasses import dataclass, replace

from models.waveform.parts import Sent

NAN = float("nan")
SCALE = 0.001


@dataclass(frozen=True, kw_only=True)
class Made:
    """A record: one current that steps at *onset_s*, a trip contact, a start contact.

    *trip* are the true instants at which the trip contact changes, in seconds from the
    first sample; *rates* (samples a second, seconds) follow each other.
    """

    revision: str = "1999"
    kind: str = "ASCII"
    hz: float = 60.0
    rates: Sequence[tuple[float, float]] = ((4800.0, 0.8),)
    onset_s: float = 0.2
    trip: Sequence[float] = (0.627917,)
    closed_at_rest: bool = False
    normal: int | None = None
    amperes: float = 5.0
    phase: float = 0.0
    before_a: float = 0.0
    trigger_s: float | None = None
    station: str = "STN"
    first_number: int = 1
    unit: str = "A"
    ratio: tuple[float, float] = (800.0, 5.0)
    base: str = "S"
    digits: int = 6
    stamp_s: float = 1e-6
    by_stamps: bool = False
    more_status: int = 0

    @property
    def times(self) -> list[float]:
        """The sampling instants."""
        found, at = [0.0], 0.0
        for rate, seconds in self.rates:
            for _ in range(round(rate * seconds) - (1 if len(found) == 1 else 0)):
                at += 1 / rate
                found.append(at)
        return found

    def current(self, at: float) -> float:
        """The current at a moment."""
        rms = self.amperes if at >= self.onset_s else self.before_a
        return rms * math.sqrt(2) * math.sin(2 * math.pi * self.hz * at + self.phase)

    def states(self, at: float) -> list[int]:
        """The states: trip, start, and as many more as there are."""
        changed = sum(1 for one in self.trip if at >= one) % 2
        trip = 1 - changed if self.closed_at_rest else changed
        return [trip, int(at >= self.onset_s), *[0] * self.more_status]

    @property
    def normal_state(self) -> int:
        """The trip channel's normal state, as declared."""
        return int(self.closed_at_rest) if self.normal is None else self.normal


def configuration(made: Made, samples: int | None = None) -> str:
    """The text of the configuration."""
    old = made.revision == "1991"
    times = made.times
    trips = [("TRIP", made.normal_state), ("START", 0)]
    trips += [(f"S{at}", 0) for at in range(made.more_status)]
    ratio = f",{made.ratio[0]:g},{made.ratio[1]:g},{made.base}"
    scale = "1" if made.kind == "FLOAT32" else f"{SCALE}"
    lines = [
        f"{made.station},DEV" + ("" if old else f",{made.revision}"),
        f"{1 + len(trips)},1A,{len(trips)}D",
        f"1,IA,A,,{made.unit},{scale},0,0,-32767,32767" + ("" if old else ratio),
    ]
    for at, (name, normal) in enumerate(trips, 1):
        lines.append(f"{at},{name}" + (f",{normal}" if old else f",,,{normal}"))
    lines.append(f"{made.hz:g}")
    if made.by_stamps:
        lines += ["0", f"0,{samples or len(times)}"]
    else:
        lines.append(str(len(made.rates)))
        ends = _ends(made)
        if samples:
            ends[-1] = samples
        lines += [
            f"{rate:g},{end}" for (rate, _), end in zip(made.rates, ends, strict=True)
        ]
    trigger = made.onset_s if made.trigger_s is None else made.trigger_s
    day = "03/02/26" if old else "02/03/2026"
    lines += [f"{day},10:00:{_seconds(at, made.digits)}" for at in (0.0, trigger)]
    lines.append(made.kind)
    if not old:
        lines.append("1")
    if made.revision == "2013":
        lines += ["0,0", "0,0"]
    return "\r\n".join(lines) + "\r\n"


def _seconds(at: float, digits: int) -> str:
    return f"{at:0{3 + digits}.{digits}f}" if digits else f"{at:02.0f}"


def _ends(made: Made) -> list[int]:
    ends, last = [], 0
    for rate, seconds in made.rates:
        last += round(rate * seconds)
        ends.append(last)
    return ends


def data(made: Made, gaps: Sequence[int] = ()) -> bytes:
    """The data; a value is missing at the rows *gaps*."""
    rows = []
    for at, moment in enumerate(made.times):
        stamp = round(moment / made.stamp_s)
        value = None if at in gaps else made.current(moment)
        rows.append(_row(made, at + made.first_number, stamp, value, moment))
    return b"".join(rows)


MISSING = {"BINARY": -32768, "BINARY32": -2147483648, "FLOAT32": -3.4028234663852886e38}
FORMAT = {"BINARY": "h", "BINARY32": "i", "FLOAT32": "f"}


def _row(
    made: Made, number: int, stamp: int, value: float | None, moment: float
) -> bytes:
    states = made.states(moment)
    if made.kind == "ASCII":
        blank = "" if made.revision == "1991" else "99999"
        said = blank if value is None else str(round(value / SCALE))
        return ",".join(map(str, [number, stamp, said, *states])).encode() + b"\r\n"
    stored: float = MISSING[made.kind] if value is None else value
    if made.kind != "FLOAT32" and value is not None:
        stored = round(value / SCALE)
    words = [
        sum(bit << at for at, bit in enumerate(states[begin : begin + 16]))
        for begin in range(0, len(states), 16)
    ]
    code = f"<II{FORMAT[made.kind]}{len(words)}H"
    return struct.pack(code, number, stamp, stored, *words)


def pair(made: Made, name: str = "shot") -> list[Sent]:
    """The two files."""
    text = configuration(made).encode()
    return [
        Sent(name=f"{name}.cfg", data=text),
        Sent(name=f"{name}.dat", data=data(made)),
    ]


def combined(made: Made, name: str = "shot") -> Sent:
    """The combined file of 2013."""
    body = data(made)
    count = "" if made.kind == "ASCII" else f": {len(body)}"
    head = f"--- file type: CFG ---\r\n{configuration(made)}"
    middle = "--- file type: INF ---\r\n\r\n--- file type: HDR ---\r\n\r\n"
    dat = f"--- file type: DAT {made.kind}{count} ---\r\n"
    return Sent(name=f"{name}.cff", data=(head + middle + dat).encode() + body)


def plain(text: str, rows: bytes, name: str = "shot") -> list[Sent]:
    """Two files of a given text and data."""
    return [
        Sent(name=f"{name}.cfg", data=text.encode()),
        Sent(name=f"{name}.dat", data=rows),
    ]


__all__ = [
    "NAN",
    "Made",
    "combined",
    "configuration",
    "data",
    "pair",
    "plain",
    "replace",
]
