"""Which notes a rule has: those of its procedure, and by what it compares."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from models.judging import Criteria, Rule
from models.judging.notes import (
    altitude,
    beside,
    conformity,
    counter,
    dew_point,
    full_load,
    humidity,
    leakage,
    other_base,
    polarization,
    records,
    same_file,
    step_voltage,
    wait_time,
    wiring_guess,
)
from models.judging.notes.placing import Made, placed
from models.procedures.subject import Subject

# bounds at which a probability is worked out
WITH_U = ("low", "high", "operating_time")


def _other_base(subject: Subject, on: str) -> Made | None:
    ratio = [subject.number(name) for name in ("ct_primary_a", "ct_secondary_a")]
    return other_base.make(on, subject.word("pickup_base"), *ratio)


def _turned(name: str) -> Made:
    """Return what to look for where the marks do not agree (common practice)."""
    return beside.make(name, {}, (), outcome="not_as_expected")


MAKERS: Mapping[str, Callable[[Subject, Criteria], Made | None]] = {
    "altitude": lambda s, c: altitude.make(c, s.number("altitude_m")),
    "coil_marks": lambda _s, _c: records.make_marks(),
    "counter": lambda _s, _c: counter.make(),
    "dew_point": lambda _, c: dew_point.make(c),
    "full_load": lambda _, c: full_load.make(c),
    "humidity": lambda _, c: humidity.make(c),
    "held_leakage": lambda _s, _c: leakage.make_held(),
    "leakage": lambda _, c: leakage.make(c, "supply"),
    "leakage_by_method": lambda _, c: leakage.make(c, "method"),
    "other_base": lambda s, _: _other_base(s, other_base.READING),
    "other_base_applied": lambda s, _: _other_base(s, "applied_a"),
    "polarization": lambda _, c: polarization.make(c),
    "same_file": lambda _s, _c: same_file.make(),
    "step_voltage": lambda _, c: step_voltage.make(c),
    "travel": lambda s, _: records.make_travel(
        s.number("speed_zone_from_mm"), s.number("speed_zone_to_mm")
    ),
    "turned_core": lambda _s, _c: _turned("turned.core"),
    "turned_rotation": lambda _s, _c: _turned("turned.rotation"),
    "turned_winding": lambda _s, _c: _turned("turned.winding"),
    "wait_time": lambda _, c: wait_time.make(c),
    "wiring_guess": lambda s, c: wiring_guess.make(
        c, s.word("rotation"), {"on": "expected_lag", "times": -1.0}
    ),
}


def with_notes(
    rule: Rule, names: Sequence[str], subject: Subject, criteria: Criteria
) -> Rule:
    """Return the rule with these notes after its own, and with their sources."""
    chosen = [MAKERS[name](subject, criteria) for name in names]
    if any(bound["kind"] in WITH_U for bound in rule.bounds):
        chosen = [conformity.make(), *chosen]
    cites = list(rule.cite)
    notes = placed(cites, *chosen)
    return replace(rule, notes=[*rule.notes, *notes], cite=cites)
