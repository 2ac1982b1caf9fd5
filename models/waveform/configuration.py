"""A record's configuration (.cfg), read line by line: what is wrong, and where.

Which lines there are, and their fields: IEEE C37.111 of 1991, 1999 and 2013 (from
memory), as the reader `comtrade` 0.2.0 takes them (run).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from models.waveform.refusal import AGAIN, refused

FIRST_REVISION = "1991"
REVISIONS = (FIRST_REVISION, "1999", "2001", "2013")  # 2001: IEC 60255-24
TYPES = ("ASCII", "BINARY", "BINARY32", "FLOAT32")
MOST_SAMPLES = 1_000_000
MOST_CHANNELS = 1_000
MOST_VALUES = 20_000_000  # samples times channels
MOST_TEXT = 1_000_000  # bytes of a configuration
LONGEST_NAME = 64  # characters that are kept of a name
STAMP = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{2,4})\s*,\s*(\d{1,2}):(\d{2}):(\d{1,2})")
FRACTION = re.compile(r"\.(\d{1,12})\s*$")


@dataclass(frozen=True, slots=True, kw_only=True)
class AnalogChannel:
    """An analog channel: value = scale x raw + offset, in *unit*."""

    name: str
    phase: str
    unit: str
    scale: float
    offset: float
    skew_us: float
    primary: float  # of the transformer's ratio; 0 where it is not said
    secondary: float
    base: str  # P, S, or nothing where it is not said


@dataclass(frozen=True, slots=True, kw_only=True)
class StatusChannel:
    """A status channel; *normal* is its state at rest, 0 or 1."""

    name: str
    phase: str
    normal: int


@dataclass(slots=True, kw_only=True)
class Configuration:
    """What the configuration says; *trigger_s* counts from the first sample."""

    station: str
    device: str
    revision: str
    frequency: float  # Hz; 0 where it is not said
    rates: list[tuple[float, int]]  # samples per second, last sample number
    by_stamps: bool  # no rate is said: the stamps in the data are the time
    data_type: str
    time_factor: float
    nanoseconds: bool  # the stamps of the first sample or the trigger have 9 digits
    trigger_s: float | None
    analog: list[AnalogChannel] = field(default_factory=list)
    status: list[StatusChannel] = field(default_factory=list)

    @property
    def samples(self) -> int:
        """How many samples the data hold."""
        return self.rates[-1][1]


def decoded(text: bytes) -> str:
    """Return a configuration's text: UTF-8 with or without a mark, else Latin-1."""
    if len(text) > MOST_TEXT:
        raise refused("The configuration is larger than 1 MB: it is none.")
    if text[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise refused("The configuration is in UTF-16. Save it as UTF-8 and send it.")
    try:
        return text.decode("utf-8-sig")
    except UnicodeDecodeError:
        return text.decode("latin-1")


class _Lines:
    """The lines one after the other, each with its number for what is said."""

    def __init__(self, text: str) -> None:
        self.lines = text.replace("\x1a", "").split("\n")
        self.number = 0

    def next(self, what: str, *, needed: bool = True) -> str:
        """Return the next line; InputError where the text has ended."""
        if self.number >= len(self.lines):
            if needed:
                raise refused(
                    f"The configuration ends before its line {self.number + 1} "
                    f"({what}). {AGAIN}"
                )
            return ""
        self.number += 1
        return self.lines[self.number - 1].strip()

    def fields(self, what: str) -> list[str]:
        """Return the fields of the next line."""
        return [one.strip() for one in self.next(what).split(",")]

    def wrong(self, what: str) -> Exception:
        """Return the error that names this line."""
        return refused(f"Line {self.number} of the configuration: {what} {AGAIN}")

    def number_of(self, text: str, what: str, *, blank: float | None = None) -> float:
        """Return a number; InputError names line and field."""
        if not text and blank is not None:
            return blank
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if not abs(value) < 1e300:
            raise self.wrong(f"'{text[:40]}' is no number for {what}.")
        return value

    def count(self, text: str, what: str) -> int:
        """Return a whole number, zero or more."""
        if not (text.isascii() and text.isdigit() and len(text) <= 9):
            raise self.wrong(f"'{text[:40]}' is no count of {what}.")
        return int(text)


def read_configuration(text: bytes) -> Configuration:
    """Return what *text* says; InputError with the line for what is wrong."""
    lines = _Lines(decoded(text))
    station, device, revision = _first_line(lines)
    analog_count, status_count = _counts(lines)
    analog = [_analog(lines) for _ in range(analog_count)]
    status = [_status(lines) for _ in range(status_count)]
    frequency = lines.number_of(lines.next("frequency"), "the frequency", blank=0.0)
    rates, by_stamps = _rates(lines)
    first, first_ns = _stamp(lines, revision, "time of the first sample")
    trigger, trigger_ns = _stamp(lines, revision, "time of the trigger")
    data_type = lines.next("type of the data").upper()
    if data_type not in TYPES:
        raise lines.wrong(f"'{data_type[:40]}' is none of {', '.join(TYPES)}.")
    factor = _factor(lines, revision)
    found = Configuration(
        station=station[:LONGEST_NAME],
        device=device[:LONGEST_NAME],
        revision=revision,
        frequency=frequency,
        rates=rates,
        by_stamps=by_stamps,
        data_type=data_type,
        time_factor=factor,
        nanoseconds=first_ns or trigger_ns,
        trigger_s=_between(first, trigger),
        analog=analog,
        status=status,
    )
    _check_size(found)
    return found


def _first_line(lines: _Lines) -> tuple[str, str, str]:
    fields = lines.fields("station and device")
    if len(fields) == 2 or (len(fields) == 3 and not fields[2]):
        return fields[0], fields[1], FIRST_REVISION
    known = ", ".join(REVISIONS)
    if len(fields) != 3:
        raise lines.wrong(
            f"it has {len(fields)} fields where station, device and year of revision "
            "are due. A comma in the station's name makes one too many: take it out."
        )
    if fields[2] not in REVISIONS:
        raise lines.wrong(
            f"'{fields[2][:40]}' is no year of revision that is known ({known}), and "
            "what follows is read by it. A comma in the station's name has the same "
            "effect: take it out."
        )
    return fields[0], fields[1], fields[2]


def _counts(lines: _Lines) -> tuple[int, int]:
    fields = lines.fields("number of channels")
    ends = [one[-1:].upper() for one in fields]
    if len(fields) != 3 or ends[1:] != ["A", "D"]:
        raise lines.wrong("the numbers of channels are written as 6,4A,2D.")
    analog, status = (lines.count(one[:-1], "channels") for one in fields[1:])
    if lines.count(fields[0], "channels") != analog + status:
        raise lines.wrong(
            f"{fields[0]} channels are said, but {analog} analog and {status} status "
            "ones follow."
        )
    if analog + status > MOST_CHANNELS:
        raise lines.wrong(f"more than {MOST_CHANNELS} channels are not read.")
    return analog, status


def _analog(lines: _Lines) -> AnalogChannel:
    fields = lines.fields("an analog channel")
    if len(fields) not in (10, 13):
        raise lines.wrong(
            f"an analog channel has 13 fields (10 in 1991), here are {len(fields)}. "
            "A comma in a channel's name makes one too many: take it out."
        )
    _, name, phase, _, unit, a, b, skew, _, _, *rest = fields
    primary, secondary, base = rest or ("0", "0", "")
    return AnalogChannel(
        name=name[:LONGEST_NAME],
        phase=phase[:LONGEST_NAME],
        unit=unit[:LONGEST_NAME],
        scale=lines.number_of(a, "the channel's multiplier"),
        offset=lines.number_of(b, "the channel's offset", blank=0.0),
        skew_us=lines.number_of(skew, "the channel's skew", blank=0.0),
        primary=lines.number_of(primary, "the primary of the ratio", blank=0.0),
        secondary=lines.number_of(secondary, "the secondary of the ratio", blank=0.0),
        base=base.upper() if base.upper() in ("P", "S") else "",
    )


def _status(lines: _Lines) -> StatusChannel:
    """The normal state is the last field: of three in 1991, of five since."""
    fields = lines.fields("a status channel")
    if len(fields) not in (3, 5):
        raise lines.wrong(
            f"a status channel has 5 fields (3 in 1991), here are {len(fields)}. "
            "A comma in a channel's name makes one too many: take it out."
        )
    if fields[-1] not in ("", "0", "1"):
        raise lines.wrong(f"'{fields[-1][:40]}' is no normal state (0 or 1).")
    phase = fields[2] if len(fields) == 5 else ""
    return StatusChannel(
        name=fields[1][:LONGEST_NAME],
        phase=phase[:LONGEST_NAME],
        normal=int(fields[-1] or 0),
    )


def _rates(lines: _Lines) -> tuple[list[tuple[float, int]], bool]:
    said = lines.count(lines.next("number of sampling rates"), "sampling rates")
    if said > 100:
        raise lines.wrong("more than 100 sampling rates are not read.")
    rates = []
    for _ in range(max(said, 1)):
        fields = lines.fields("a sampling rate")
        if len(fields) != 2:
            raise lines.wrong("a sampling rate is written as rate,last sample.")
        rate = lines.number_of(fields[0], "the sampling rate")
        rates.append((rate, lines.count(fields[1], "samples")))
    ends = [end for _, end in rates]
    if ends[0] < 1 or sorted(set(ends)) != ends:
        raise lines.wrong("the last sample of each rate has to lie after that before.")
    by_stamps = said == 0 or all(rate == 0 for rate, _ in rates)
    if not by_stamps and any(rate <= 0 for rate, _ in rates):
        raise lines.wrong("a sampling rate is above zero.")
    return rates, by_stamps


def _stamp(
    lines: _Lines, revision: str, what: str
) -> tuple[tuple[datetime, float] | None, bool]:
    """Return day and second, the fraction beside; None for a stamp that is none."""
    text = lines.next(what)
    found = STAMP.match(text)
    fraction = FRACTION.search(text)
    digits = fraction[1] if fraction else ""
    if found is None:
        return None, len(digits) > 6
    one, two, year, hour, minute, second = (int(part) for part in found.groups())
    month, day = (one, two) if revision == FIRST_REVISION else (two, one)
    year += 0 if year > 99 else 1900 if year >= 70 else 2000
    try:
        at = datetime(year, month, day, hour, minute, second)  # noqa: DTZ001
    except ValueError:
        return None, len(digits) > 6
    return (at, float(f"0.{digits or 0}")), len(digits) > 6


def _between(
    first: tuple[datetime, float] | None, trigger: tuple[datetime, float] | None
) -> float | None:
    if first is None or trigger is None:
        return None
    whole: timedelta = trigger[0] - first[0]
    return whole.total_seconds() + (trigger[1] - first[1])


def _factor(lines: _Lines, revision: str) -> float:
    if revision == FIRST_REVISION:
        return 1.0
    text = lines.next("factor of the time stamps", needed=False)
    factor = lines.number_of(text, "the factor of the time stamps", blank=1.0)
    if factor <= 0:
        raise lines.wrong("the factor of the time stamps is above zero.")
    return factor


def _check_size(found: Configuration) -> None:
    channels = len(found.analog) + len(found.status)
    values = found.samples * (channels + 2)
    if found.samples > MOST_SAMPLES or values > MOST_VALUES:
        raise refused(
            f"The record has {found.samples:,} samples of {channels} channels; at most "
            f"{MOST_SAMPLES:,} samples and {MOST_VALUES:,} values are read. Export the "
            "seconds around the trip, or fewer channels."
        )


def plain_lines(found: Configuration) -> Iterator[str]:
    """Yield the configuration anew, so that no reader stumbles over what is allowed.

    Of a form that every revision's reader takes alike: no mark, no name with a sign
    of another alphabet, every stamp with a fraction; times are given by `Waveform`.
    """
    yield f"station,device,{found.revision}"
    yield (
        f"{len(found.analog) + len(found.status)},"
        f"{len(found.analog)}A,{len(found.status)}D"
    )
    for at, one in enumerate(found.analog, 1):
        yield f"{at},A{at},,,,{one.scale!r},{one.offset!r},0,-1,1,1,1,P"
    for at, status in enumerate(found.status, 1):
        yield f"{at},D{at},,,{status.normal}"
    yield f"{found.frequency!r}"
    rates = [(0.0, found.samples)] if found.by_stamps else found.rates
    yield str(0 if found.by_stamps else len(rates))
    for rate, end in rates:
        yield f"{rate!r},{end}"
    fraction = "0" * (9 if found.nanoseconds else 6)
    yield from [f"01/01/2000,00:00:00.{fraction}"] * 2
    yield found.data_type
    yield f"{found.time_factor!r}"
