"""Read a record whole: the package `comtrade` converts, the checks are made here.

What the package lets pass in silence was found by trying it, version 0.2.0, on
records with a known trip: a short file is padded with zeros; nanosecond stamps in the
configuration shorten microsecond ones a thousandfold; the missing marker of FLOAT32
comes through as a value; a -1 of 1991 counts as missing; samples numbered from 0 begin
one sample early; the normal state of a 1991 status line of three fields is lost.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass

import comtrade
import numpy as np
from numpy.typing import NDArray

from models.waveform.configuration import (
    FIRST_REVISION,
    AnalogChannel,
    Configuration,
    StatusChannel,
    plain_lines,
    read_configuration,
)
from models.waveform.parts import parts_of
from models.waveform.refusal import AGAIN, refused
from models.waveform.rows import Rows, rows_of

Samples = NDArray[np.float64]
BEYOND = 1e30  # no current or voltage: the missing marker of FLOAT32 is -3.4e38
MISSING_RUN = 3  # values of -1 one after the other in a 1991 BINARY file
FASTEST = 1e6  # samples per second; above it, the stamps are read in a wrong unit
FEWEST = 4.0  # samples per cycle; below it, likewise
RATE_SHARE = 0.02  # by which stamps and rate may differ


@dataclass(frozen=True, slots=True, kw_only=True)
class Waveform:
    """A record: *time* in seconds from the first sample, a value a sample.

    *values* are in the unit of their channel, NaN where one is missing; *states* are
    0 or 1, as stored. *remarks* say what was put right or left aside.
    """

    configuration: Configuration
    time: Samples
    values: Sequence[Samples]
    states: Sequence[NDArray[np.int8]]
    remarks: Sequence[str]

    @property
    def analog(self) -> Sequence[AnalogChannel]:
        """The analog channels, as *values* go."""
        return self.configuration.analog

    @property
    def status(self) -> Sequence[StatusChannel]:
        """The status channels, as *states* go."""
        return self.configuration.status

    @property
    def cycle_s(self) -> float | None:
        """The duration of a cycle in seconds; None where no frequency is said."""
        hz = self.configuration.frequency
        return 1 / hz if 10 <= hz <= 500 else None


def read_waveform(kept: bytes) -> Waveform:
    """Read a record that `one_file` made; InputError says what to do about a fault."""
    parts = parts_of(kept)
    found = read_configuration(parts.configuration)
    if parts.data_type not in ("", found.data_type):
        raise refused(
            f"The combined file says that its data are {parts.data_type}, its "
            f"configuration {found.data_type}. {AGAIN}"
        )
    rows = rows_of(found, parts.data)
    remarks: list[str] = []
    converted = _converted(found, rows)
    _check_numbers(rows.numbers)
    time = np.asarray(converted.time, dtype=np.float64)
    if rows.numbers[0] != 1 and not found.by_stamps:
        time = _by_rates(found.rates)
        remarks.append(
            f"Samples are numbered from {rows.numbers[0]:g}; time counts from the "
            "first."
        )
    time = _checked_time(found, time - time[0], rows, remarks)
    return Waveform(
        configuration=found,
        time=time,
        values=_values(found, converted.analog, rows, remarks),
        states=[_states(one) for one in converted.status],
        remarks=remarks,
    )


def _converted(found: Configuration, rows: Rows) -> comtrade.Comtrade:
    record = comtrade.Comtrade(
        use_numpy_arrays=True, use_double_precision=True, ignore_warnings=True
    )
    plain = io.StringIO("\n".join([*plain_lines(found), ""]))
    try:
        record.read(plain, rows.data)
    except (
        ValueError,
        IndexError,
        OverflowError,
        TypeError,
        comtrade.ComtradeError,
    ) as error:
        raise refused(f"The data cannot be read ({error}). {AGAIN}") from error
    return record


def _check_numbers(numbers: Samples) -> None:
    leap = np.flatnonzero(np.diff(numbers) != 1)
    if leap.size:
        at = int(leap[0])
        raise refused(
            f"The sample numbers go from {numbers[at]:g} to {numbers[at + 1]:g} at row "
            f"{at + 2}: samples are missing or out of order. {AGAIN}"
        )


def _checked_time(
    found: Configuration, time: Samples, rows: Rows, remarks: list[str]
) -> Samples:
    steps = np.diff(time)
    if not (np.isfinite(time).all() and (steps > 0).all()):
        raise refused(
            "The time does not rise from sample to sample: the stamps are blank, "
            f"repeated or out of order. {AGAIN}"
        )
    if not steps.size:
        raise refused(f"The record holds one sample only. {AGAIN}")
    unit = "nanoseconds" if found.nanoseconds else "microseconds"
    rate = 1 / float(np.median(steps))
    if rate > FASTEST or rate < FEWEST * (found.frequency or 1):
        raise refused(
            f"Read in {unit}, as the stamps of its configuration say, the record has "
            f"{rate:,.6g} samples a second: its time is in another unit. Export it "
            "with stamps of one resolution, or with a sampling rate."
        )
    if not found.by_stamps:
        _compare_stamps(found, rows, steps, remarks)
    return time


def _by_rates(rates: Sequence[tuple[float, int]]) -> Samples:
    """Return the time of each sample, whatever it is numbered from."""
    steps, last = [np.zeros(1)], 1
    for rate, end in rates:
        steps.append(np.full(end - last, 1 / rate))
        last = end
    return np.cumsum(np.concatenate(steps))


def _compare_stamps(
    found: Configuration, rows: Rows, steps: Samples, remarks: list[str]
) -> None:
    """Compare the stamps in the data with the rate, which is what decides."""
    stamped = np.diff(rows.stamps)
    stamped = stamped[np.isfinite(stamped)]
    if not stamped.size or not stamped.any():
        return
    base = 1e-9 if found.nanoseconds else 1e-6
    times = (
        float(np.median(stamped)) * base * found.time_factor / float(np.median(steps))
    )
    if abs(times - 1) <= RATE_SHARE:
        return
    for factor in (1000.0, 0.001):
        if abs(times / factor - 1) <= RATE_SHARE:
            remarks.append(
                "The stamps in the data are in another unit than those of the "
                "configuration; the time is that of the sampling rate."
            )
            return
    raise refused(
        f"By the stamps in its data the record takes {times:.3g} times as long as by "
        f"its sampling rate: one of them is wrong, and so would be the time. {AGAIN}"
    )


def _values(
    found: Configuration, read: Sequence[Samples], rows: Rows, remarks: list[str]
) -> list[Samples]:
    values = []
    restored = 0
    for at, channel in enumerate(found.analog):
        one = np.array(read[at], dtype=np.float64)
        if (found.data_type, found.revision) == ("BINARY", FIRST_REVISION):
            restored += _restore(one, channel, rows, at)
        one[~np.isfinite(one) | (np.abs(one) > BEYOND)] = np.nan
        values.append(one)
    if restored:
        remarks.append(
            f"{restored} values of -1 are kept as values: in a BINARY file of 1991 the "
            "marker of a missing value is the same number."
        )
    return values


def _restore(one: Samples, channel: AnalogChannel, rows: Rows, at: int) -> int:
    """Put back lone values of -1, which the reader took for missing; return how many.

    Several one after the other are missing: a wave passes through a number, it does
    not stay there.
    """
    if rows.raw is None:
        return 0
    marked = rows.raw[:, at] == -1
    edges = np.diff(np.concatenate(([0], marked.astype(np.int8), [0])))
    restored = 0
    for begin, end in zip(
        np.flatnonzero(edges == 1), np.flatnonzero(edges == -1), strict=True
    ):
        if end - begin < MISSING_RUN:
            one[begin:end] = channel.offset - channel.scale
            restored += int(end - begin)
    return restored


def _states(read: Sequence[int]) -> NDArray[np.int8]:
    states = np.asarray(read)
    if not np.isin(states, (0, 1)).all():
        raise refused(f"A status channel holds a state that is not 0 or 1. {AGAIN}")
    return states.astype(np.int8)
