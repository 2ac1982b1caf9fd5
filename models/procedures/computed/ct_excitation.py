"""CT excitation: the class decides which knee counts, and against which limit."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.errors import InputError
from models.judging.rows import log_curve, points_of
from models.judging.rules import Rule
from models.judging.series import EXCITATION, parse_series
from models.judging.series_words import knee_of
from models.judging.tables import Criteria, Row, Table
from models.procedures import precedence
from models.procedures.ct_core import c_class
from models.procedures.gives import Gives
from models.procedures.precedence import Claim
from models.procedures.procedure import GEARS, Givable, Points, Procedure, safety
from models.procedures.subject import Subject

Part = Mapping[str, Any]

BASE = "V"
RATED_A = 5.0  # a C class is that of a 5 A secondary
TIMES = 20.0  # of rated current, at which its volts are
KNEE = Givable(
    name="ct_knee",
    title="Knee-point voltage of a current transformer, at least",
    side="least",
    units=("V", "kV"),
)
PROCEDURE = Procedure(
    name="ct_excitation",
    title="CT excitation",
    method=(
        "Demagnetize the core. With the primary open apply voltage to the secondary, "
        "full winding or the tap in use, and raise it step by step, never back: read "
        "volts and exciting current, with steps of at most 10 % about the knee. Bring "
        "it slowly back to nothing. The value is that of the curve: the volts of the "
        "knee, of a C class those at its terminals."
    ),
    units=("V", "kV"),
    default_unit="V",
    asks=(),
    outcomes=(),
    preconditions=(),
    safety=safety("CT_excitation"),
    gears=GEARS,
    apparatus=("ct",),
    points=Points("listed"),
    rests_on=(
        "ct_class",
        "knee_v",
        "ct_secondary_a",
        "ct_rct_ohm",
        "ct_gapped",
        "ct_curve",
    ),
    series=(EXCITATION,),
    givable=(KNEE,),
    questions=(Gives(of="saturation", part="knee", derived=("knee", "emf")),),
    worse="lower",
    scale="linear",
    example={
        "value": "407.8",
        "unit": "V",
        "accuracy_pct": "0.5",
        "ct_class": "C400",
        "ct_rct_ohm": "0.3",
        "excitation": (
            "10:0.004624 20:0.007511 40:0.01220 60:0.01621 80:0.01982 100:0.02317 "
            "125:0.02709 150:0.03078 175:0.03431 200:0.03782 220:0.04089 240:0.04497 "
            "260:0.05198 280:0.06667 300:0.1000 320:0.1757 340:0.3430 360:0.6988 "
            "380:1.427 400:2.867 420:5.619 440:10.72"
        ),
    },
)
# Rows of the table of definitions: by rise, by the tangent, and that of gapped cores.
DEFINITIONS = (
    "IEC: voltage up by",
    "IEEE: tangent, degrees",
    "IEEE, gapped cores: tangent, degrees",
)
NOTHING = (
    "Neither a C class nor a knee-point voltage nor a curve of the maker is known."
)
NO_WINDING = (
    "The winding resistance of the CT is not known: measure it, and enter it at 75 °C."
)
OTHER_SECONDARY = "The volts of a C class are those of a 5 A secondary."


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: a C class at its terminals, any knee against its limit."""
    core = c_class(subject, criteria)
    knee = _knee(subject, criteria, european=core is None)
    limits = [one for one in _knee_limits(subject, criteria, knee) if one is not None]
    derive: list[Any] = [dict(knee)] if limits else []
    bounds = [_low("knee", claim.value, n) for n, claim in enumerate(limits)]
    cite = [claim.cite for claim in limits]
    if core is not None:
        derive += _terminal(subject.number("ct_rct_ohm") or 0.0)
        bounds.append(_low("terminal", core["terminal_v"], len(cite)))
        cite.append(criteria.table("ct_relaying").cite(core))
    decides = "knee" if core is None else "terminal"
    if bounds:
        derive.append(_difference(decides))
    notes = _notes(criteria, knee if limits else {}, cite) if bounds else []
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        gates=list(_gates(criteria, derive)),
        derive=derive,
        bounds=bounds,
        unjudged=[{"reason": one} for one in _unknown(subject, core, bounds)],
        notes=notes,
        cite=cite,
    )


def _unknown(subject: Subject, core: Part | None, bounds: list[Any]) -> Iterator[str]:
    if not bounds:
        yield NOTHING
    if core is not None and subject.number("ct_rct_ohm") is None:
        yield NO_WINDING
    if core is not None and subject.number("ct_secondary_a") not in (None, RATED_A):
        yield OTHER_SECONDARY


def _definitions(criteria: Criteria) -> list[dict[str, Any]]:
    """Return the three knees, by the table of definitions."""
    table = criteria.table("knee_definitions")
    named = {"name": "knee", "label": "knee", "series": EXCITATION.name, "op": "knee"}
    rise = {
        "by": "rise",
        "step_pct": _value(table, DEFINITIONS[0]),
        "value_pct": _value(table, "IEC: raises the exciting current by"),
    }
    slopes = [{"by": "slope", "degrees": _value(table, row)} for row in DEFINITIONS[1:]]
    return [{**named, "unit": BASE, **one} for one in (rise, *slopes)]


def _row(table: Table, name: str) -> Row:
    found = table.find(lambda one: one["row"] == name)
    assert found is not None
    return found


def _value(table: Table, row: str) -> float:
    return float(_row(table, row)["value"])


def _knee(subject: Subject, criteria: Criteria, *, european: bool) -> dict[str, Any]:
    """Return the knee that decides: of a C class the tangent's, else by rise."""
    by_rise, tangent, gapped = _definitions(criteria)
    if european:
        return by_rise
    return gapped if subject.fields.get("ct_gapped") is True else tangent


def _notes(criteria: Criteria, knee: Part, cite: list[Any]) -> list[dict[str, Any]]:
    """Return where the other definitions put the knee; *cite* takes the sources."""
    table, found = criteria.table("knee_definitions"), []
    for row, one in zip(DEFINITIONS, _definitions(criteria), strict=True):
        source = _row(table, row)
        words = {k: v for k, v in one.items() if k not in ("name", "label", "op")}
        del words["unit"]
        if one != knee:
            found.append({"say": "other_knee", **words, "cite": [len(cite)]})
        cite.append({**table.cite(source), "beside": True})
    return found


def _knee_limits(
    subject: Subject, criteria: Criteria, knee: Part
) -> Iterator[Claim | None]:
    """Yield the least knee: given or on the nameplate; and by the maker's curve."""
    plate = precedence.on_nameplate(
        KNEE, subject.number("knee_v"), "knee-point voltage"
    )
    yield precedence.decides([*precedence.given(subject, KNEE), plate])
    yield _of_curve(subject, criteria, knee)


def _of_curve(subject: Subject, criteria: Criteria, knee: Part) -> Claim | None:
    """Return the share of the knee of the maker's curve below which is an alarm."""
    text = subject.word("ct_curve")
    try:
        steps = parse_series(EXCITATION.name, text or "")
    except InputError:
        return None
    found = knee_of(knee, steps)
    if isinstance(found, str) or log_curve(points_of(EXCITATION.name, steps)) is None:
        return None
    table = criteria.table("instrument_transformer_field")
    row = table.find(lambda one: str(one["row"]).startswith("excitation reading"))
    assert row is not None
    least = found.bound * (1 - row["to_value"] / 100)
    said = f"{row['to_value']:g} % below {found.bound:.4g} V, the knee of the curve"
    return precedence.tabled(KNEE, least, table.cite(row, said), "the curve's")


def _terminal(rct_ohm: float) -> list[dict[str, Any]]:
    """Return the volts at the exciting current that a ratio error of 10 % leaves."""
    error_a = TIMES * RATED_A / 10
    drop = TIMES * RATED_A * rct_ohm
    return [
        {
            "name": "emf",
            "label": f"voltage at {error_a:g} A of exciting current",
            "op": "series_where",
            "series": EXCITATION.name,
            "value": error_a,
            "unit": BASE,
        },
        {
            "name": "terminal",
            "label": f"voltage left at the terminals at {TIMES * RATED_A:g} A",
            "op": "minus",
            "of": "emf",
            "by": drop,
            "unit": BASE,
        },
    ]


def _difference(decides: str) -> dict[str, Any]:
    return {
        "name": "difference",
        "label": "difference of the value entered from that of its curve",
        "op": "error_pct",
        "of": "reading",
        "expected": {"on": decides},
        "unit": "%",
    }


def _gates(
    criteria: Criteria, derive: list[dict[str, Any]]
) -> Iterator[dict[str, Any]]:
    """Yield what the curve needs, and that the value entered is its own."""
    table, row = criteria.table("series_needs"), EXCITATION.name
    points = _value(table, "excitation curve: points")
    yield {"series": row, "least": points, "rising": True}
    above = {
        "knee": _value(table, "excitation curve: points above its knee"),
        "emf": 1.0,
    }
    gap = _value(table, "excitation curve: widest step at its knee")
    names = [one["name"] for one in derive]
    for name in names:
        if name in above:
            points_above = {"of": name, "least": above[name]}
            yield {"series": row, "above": points_above, "gap_pct": gap}
    if "difference" in names:
        label = "difference of the value entered from that of its curve"
        within = _value(table, "value entered: difference from that of its curve")
        both = {"at_least": -within, "at_most": within}
        for side, limit in both.items():
            yield {"on": "difference", "label": label, side: limit, "unit": "%"}


def _low(of: str, value: float, cite: int) -> dict[str, Any]:
    return {"kind": "low", "of": of, "unit": BASE, "value": value, "cite": cite}
