"""What a procedure is: its words, what it asks for, what its rule is made from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from models.fields import field as field_named
from models.judging.series import Series
from models.procedures.gives import Gives

GEARS = field_named("gear").choices
# Which way a quantity goes as the gear gets worse, and the scale it is drawn on.
SWITCHING = ("breaker", "switch", "fused_switch", "three_position_switch")
WORSE = ("higher", "lower", "away", "none")
SCALES = ("linear", "log", "none")
# What a record tells of: a relay's trip, the contact of a pole, or a curve that is kept
# as the row of a reading.
WAVEFORMS = ("", "trip", "contact", "curve")
SIDES = ("least", "greatest", "level")  # what a figure that is given is


@dataclass(frozen=True, slots=True, kw_only=True)
class Givable:
    """A figure that a maker or a project can give; the first unit is the rule's."""

    name: str
    title: str
    side: str  # what the figure is: a least, a greatest, or the level itself
    units: tuple[str, ...]
    may_be_zero: bool = False
    # Table, row and column of a figure that a lead may adopt for it.
    suggested: Mapping[str, str] | None = None
    procedure: str = ""  # which gives it; the registry fills it in


@dataclass(frozen=True, slots=True)
class Points:
    """Where readings are taken: a pattern, and what a point fixes besides.

    *by* names a condition with its values: each place is read once under each, and
    those of one value are a group.
    """

    pattern: str
    by: Mapping[str, Sequence[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Safety:
    """Which lists of safety lines a card has: models/criteria/safety/lists.toml.

    *by* names the condition whose value chooses among *groups*; without it there is
    one, under the key "". *waits_for*: conditions that the order of the programme
    makes, such as "HV4", insulation found good before a withstand.
    """

    groups: Mapping[str, str]
    by: str | None = None
    waits_for: Sequence[str] = ()


def safety(
    group: str = "",
    *,
    by: str | None = None,
    waits_for: Sequence[str] = (),
    **groups: str,
) -> Safety:
    """Return the lists: one *group*, or one for each value of the condition *by*."""
    return Safety(groups if by else {"": group}, by, tuple(waits_for))


@dataclass(frozen=True, slots=True, kw_only=True)
class Procedure:
    """A kind of test.

    *rests_on* are the fields of nameplate, setting or site that its rule is made
    from; *columns* those that only a readings file gives, each with the nameplate's
    fields that say the same, and *chosen_by* the condition that says what `limit` is a
    limit of. *apparatus* and *gears* are those on which it is done. *compared*: the
    readings of a group are compared with each other; *forecast*: a line through the
    logarithm of its readings says when the limit is reached. *waveform*: to what
    its time is measured, where a waveform record tells it.
    """

    name: str
    title: str
    method: str
    units: Sequence[str]  # units in which a reading may be entered
    default_unit: str
    asks: Sequence[
        Mapping[str, Any]
    ]  # conditions: name, label, unit, required, choices
    outcomes: Sequence[str]
    preconditions: Sequence[str]  # its own codes, asked in rounds of the earlier list
    safety: Safety
    gears: Sequence[str]
    apparatus: Sequence[str]
    points: Points
    rests_on: Sequence[str] = ()
    columns: Mapping[str, Sequence[str]] = field(default_factory=dict)
    chosen_by: str | None = None
    series: Sequence[Series] = ()  # rows of readings that a point may carry
    givable: Sequence[Givable] = ()
    notes: Sequence[str] = ()  # said beside the verdict
    worse: str = "none"
    scale: str = "none"
    signed: bool = False  # whether a reading may lie below zero
    by_eye: bool = False  # whether no instrument is needed
    compared: bool = False
    against_baseline: bool = False  # whether a rule of a point holds its baseline
    forecast: bool = False
    waveform: str = ""
    questions: Sequence[Gives] = ()  # that it answers together with others
    # A reading to begin with in the calculator: what is typed, by field.
    example: Mapping[str, str] = field(default_factory=dict)


def ask(
    name: str,
    label: str = "",
    *,
    required: bool = True,
    choices: Sequence[str] = (),
    when: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Return one condition that a card asks for: a field, with a label of its own.

    *when*: what a point of the card, or a condition chosen on it, has to be for the
    card to ask at all.
    """
    about = field_named(name)
    return {
        "name": name,
        "label": label or about.label,
        "unit": about.said_unit,
        "required": required,
        "choices": list(choices or about.choices),
        **({"when": dict(when)} if when else {}),
    }


def asked_of(
    asks: Sequence[Mapping[str, Any]], points: Sequence[Mapping[str, Any]]
) -> list[Mapping[str, Any]]:
    """Return those of *asks* that some point needs, by what each of them fixes."""
    return [ask for ask in asks if any(_needs(ask, point) for point in points)]


def _needs(ask: Mapping[str, Any], point: Mapping[str, Any]) -> bool:
    wanted = ask.get("when", {}).items()
    return all(point.get(name, value) == value for name, value in wanted)


TEMPERATURE = ask("temperature_c", "Temperature of the insulation")
AIR_TEMPERATURE = ask("air_temperature_c", required=False)
HUMIDITY = ask("humidity_pct", required=False)
