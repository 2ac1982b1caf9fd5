"""A row of readings at one point: over time, or over the steps of a voltage.

A reading carries such a row as the text of one condition, such as
`15:1.2 30:2.1 60:3.0`: what was counted or set, a colon, what was shown.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from models.errors import Fault, InputError
from models.judging.near import near
from models.judging.values import Interval, legible, parse_number, parse_value
from models.words import say

# Of a record that an instrument took: more says nothing more of a coil or a contact.
MOST_RECORDED, LONGEST_RECORDED = 250, 4000


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """A kind of row.

    *name* is the condition's; *step_unit* that of what was counted or set,
    *unit* that of what was shown (empty: the reading's own). *note* says what the
    row is good for, *begin* what is entered first and what next, while the row is
    empty. *usual* are the steps that a card offers, *shares* those of the condition
    *share_of*; without either it opens with so many blank *rows*. *marks* are the
    conditions that a person sets on the curve. *only* names conditions with the value
    that it goes with, any one of them. *scale*: both axes logarithmic ("log") or not.
    *zoomed*: drawn over the span of its values, not from 0.
    *from_zero*: a step may be 0; *signed*: what was shown may lie below it. A row
    has at most *most* readings in *longest* characters.
    """

    name: str
    title: str
    step_label: str
    step_unit: str
    label: str
    unit: str
    note: str
    begin: str
    usual: tuple[float, ...] = ()
    shares: tuple[float, ...] = ()
    share_of: str = ""
    rows: int = 4
    marks: tuple[str, ...] = ()
    only: tuple[tuple[str, str], ...] = ()
    scale: str = "linear"
    zoomed: bool = False
    from_zero: bool = False
    signed: bool = False
    most: int = 40
    longest: int = 600  # more is no row that somebody read


@dataclass(frozen=True, slots=True)
class Step:
    """One reading of a row: *at* in the step's unit, *text* as typed."""

    at: float
    text: str
    value: Interval


# What the notes say is common practice.
# 15, 30 and 45 s, then every minute to ten: common practice for a timed
# resistance test; the ratios need 30 s, 60 s and 600 s.
TIMED = Series(
    name="timed",
    title="Readings over time",
    step_label="After",
    step_unit="s",
    label="Resistance",
    unit="",
    note="Information only, no verdict: in air-insulated gear and vacuum breakers the "
    "absorption current dies within seconds, so these ratios say little there.",
    begin="Start the clock with the voltage, and type what is shown at each moment: "
    "the reading after one minute is the one that is judged.",
    usual=(15, 30, 45, *range(60, 601, 60)),
)
# The test voltages of insulation testers: common practice.
STEPS = Series(
    name="steps",
    title="Step voltage",
    step_label="Test voltage, dc",
    step_unit="kV",
    label="Resistance",
    unit="",
    note="Information only, no verdict: resistance that falls as the voltage rises is "
    "a reason to look for moisture, dirt or a crack.",
    begin="Type beside each test voltage what is shown after the same time there.",
    usual=(0.5, 1.0, 2.5, 5.0),
)
LEAKAGE = Series(
    name="leakage",
    title="Leakage current over the steps",
    step_label="Voltage, dc",
    step_unit="kV",
    label="Leakage current",
    unit="µA",
    note="Information only, no verdict: a current that climbs faster than the voltage "
    "is a reason to stop and look; the dotted line grows as the voltage does. The "
    "instruction book goes first.",
    begin="From the lowest step up: the voltage, then the current once it has settled.",
    only=(("supply", "dc"), ("method", "dc")),
)
# At the level, minute by minute as it is held: common practice.
HELD_LEAKAGE = Series(
    name="held_leakage",
    title="Leakage current at the level",
    step_label="Held for",
    step_unit="min",
    label="Leakage current",
    unit="µA",
    note="Information only, no verdict: a current that rises while the voltage stands "
    "still is a reason to stop and look.",
    begin="Type the current at each minute, from the first with the level reached.",
    usual=(1, 2, 5, 10, 15),
    only=(("method", "dc"),),
)
EXCITATION = Series(
    name="excitation",
    title="Excitation curve",
    step_label="Voltage",
    step_unit="V",
    label="Exciting current",
    unit="A",
    note="Demagnetize first and go up only. What is judged is read off this curve, "
    "joined in the logarithms of both.",
    begin="Demagnetize. Then from the lowest voltage up, never back: the volts, then "
    "the amperes shown there. At least 8 pairs, with steps of at most 10 % "
    "about the knee and 2 pairs above it. The value above is taken from the "
    "curve.",
    rows=8,
    scale="log",
)
FALL = Series(
    name="fall",
    title="Fall of potential",
    step_label="Potential probe at",
    step_unit="m",
    label="Resistance",
    unit="Ohm",
    note="Distances from the ground under test, in line with the current probe. The "
    "reading at 61.8 % of its distance counts where those about it are flat.",
    begin="Enter the distance of the current probe above. Then the potential probe, "
    "the nearest first: its distance, and the ohms shown there. At 52, 62 and "
    "72 % of the distance they have to lie flat. The value above is taken from "
    "the curve.",
    shares=(0.2, 0.4, 0.52, 0.62, 0.72, 0.8),
    share_of="probe_m",
    rows=6,
)
GAS_LOG = Series(
    name="gas_log",
    title="Gas pressure over time",
    step_label="After",
    step_unit="h",
    label="Pressure",
    unit="kPa",
    note="Information only, no verdict: at one temperature a tight tank keeps its "
    "pressure.",
    begin="The first reading at 0 h; then the hours since and the pressure, at about "
    "the same temperature.",
    zoomed=True,
    from_zero=True,
)
TAN_DELTA = Series(
    name="tan_delta",
    title="Dissipation factor over the steps",
    step_label="Voltage, of the voltage to ground",
    step_unit="U0",
    label="Dissipation factor",
    unit="1e-3",
    note="Each value is the mean of its step. What is judged beside it is how much it "
    "rises with the voltage.",
    begin="Type the mean of each step beside it, the lowest voltage first; stop where "
    "it climbs steeply. The value above is that at 1 U0.",
    usual=(0.5, 1.0, 1.5),
    signed=True,
)
COIL_CURRENT = Series(
    name="coil_record",
    title="Coil current",
    step_label="Time",
    step_unit="ms",
    label="Current",
    unit="A",
    note="Information only, no verdict: a first peak that comes later or lies higher "
    "than before is a reason to look at plunger and latch.",
    begin="Take the curve from a record, paste it, or type it: the time from the "
    "start, then the current. Where it dips the plunger moves.",
    rows=8,
    marks=("mark_start_ms", "mark_plunger_ms", "mark_latch_ms", "mark_contact_ms"),
    from_zero=True,
    most=MOST_RECORDED,
    longest=LONGEST_RECORDED,
)
TRAVEL = Series(
    name="travel",
    title="Travel record",
    step_label="Time",
    step_unit="ms",
    label="Travel",
    unit="mm",
    note="Information only, no verdict: compared with the record taken before.",
    begin="Take the curve from a record, paste it, or type it: the time, then how far "
    "the contact has moved. Begin before it moves and end when it rests.",
    rows=8,
    from_zero=True,
    signed=True,
    most=MOST_RECORDED,
    longest=LONGEST_RECORDED,
)
SERIES = {
    series.name: series
    for series in (
        TIMED,
        STEPS,
        LEAKAGE,
        HELD_LEAKAGE,
        EXCITATION,
        FALL,
        GAS_LOG,
        TAN_DELTA,
        COIL_CURRENT,
        TRAVEL,
    )
}


def parse_series(name: str, text: str) -> tuple[Step, ...]:
    """Read a row of the kind *name*: `15:1.2 30:>2 60:3.0`, steps rising.

    Raises InputError, its field *name*, with what is wrong and where.
    """
    pairs, kind = text.split(), SERIES[name]
    if len(text) > kind.longest or len(pairs) > kind.most:
        most, longest = str(kind.most), str(kind.longest)
        raise _fault(name, say("fault.series.long", readings=most, characters=longest))
    if not pairs:
        raise _fault(name, say("fault.series.nothing"))
    steps = [_step(name, pair) for pair in pairs]
    for before, after in pairwise(steps):
        if after.at <= before.at or near(after.at, before.at):
            raise _fault(name, _out_of_order(name, before, after))
    return tuple(steps)


def series_text(steps: Sequence[Step]) -> str:
    """Return a row as one line of text, each value as it was typed."""
    return " ".join(f"{step.at:.10g}:{step.text}" for step in steps)


def polarization_index(steps: Sequence[Step]) -> Interval | None:
    """Return R(10 min) / R(1 min), or None without either.

    Definition: criteria table polarization_bands, its quantity.
    """
    return ratio_of(steps, 600.0, 60.0)


def absorption_ratio(steps: Sequence[Step]) -> Interval | None:
    """Return R(60 s) / R(30 s), or None without either.

    Definition: criteria table polarization_bands, its quantity.
    """
    return ratio_of(steps, 60.0, 30.0)


def apparent_resistance_gohm(step: Step) -> float | None:
    """Return kV over µA, which is GΩ; None for a bound, or where nothing flowed.

    Nothing flowed, too, where the quotient is beyond every number.
    """
    if not step.value.exact or not step.value.bound:
        return None
    gohm = step.at / step.value.bound
    return gohm if math.isfinite(gohm) else None


def value_at(steps: Sequence[Step], at: float) -> Interval | None:
    """Return what was shown at the step *at*, or None."""
    return next((step.value for step in steps if near(step.at, at)), None)


def ratio_of(steps: Sequence[Step], late: float, early: float) -> Interval | None:
    """Return in which interval the quotient of two steps' readings lies, or None."""
    above, below = value_at(steps, late), value_at(steps, early)
    if above is None or below is None:
        return None
    low = _quotient(above.low, below.high)
    high = _quotient(above.high, below.low)
    return None if low is None and high is None else Interval(low, high)


def _quotient(above: float | None, below: float | None) -> float | None:
    return None if above is None or not below else above / below


def _step(name: str, pair: str) -> Step:
    series = SERIES[name]
    at_text, colon, text = pair.partition(":")
    if not colon or not at_text or not text:
        message = say("fault.series.form", pair=pair, unit=series.step_unit)
        raise _fault(name, message)
    try:
        at = parse_number(at_text)
        value = parse_value(text)
    except InputError as error:
        faults = " ".join(fault.message for fault in error.faults)
        message = say("fault.series.at", pair=pair, fault=faults)
        raise _fault(name, message) from None
    if not isinstance(value, Interval):
        raise _fault(name, say("fault.series.number", pair=pair))
    if at < 0 or (at == 0 and not series.from_zero):
        raise _fault(name, say("fault.series.negative", pair=pair))
    if value.bound < 0 and not series.signed:
        raise _fault(name, say("fault.series.negative", pair=pair))
    return Step(at=at, text=legible(text), value=value)


def _out_of_order(name: str, earlier: Step, later: Step) -> str:
    return say(
        "fault.series.order",
        later=f"{later.at:g}",
        earlier=f"{earlier.at:g}",
        unit=SERIES[name].step_unit,
    )


def _fault(name: str, message: str) -> InputError:
    return InputError(Fault(field=name, message=message))
