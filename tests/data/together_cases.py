"""Questions that cards answer together: cards as the tablet has them, what is said.

CT by relays-and-apparatus D5: 20 kA on 1200:5 with X/R 12 is 83.333 A, and with its
offset 1083.3 A; over 0.40 + 0.20 ohm 650.0 V, over 0.40 + 0.35 ohm 812.5 V.
"""

from dataclasses import dataclass
from typing import Any

from models.procedures.gives import Gives
from tests.data.cases_words_rows import CURVE

Doc = dict[str, Any]
RISE = {"by": "rise", "step_pct": 10.0, "value_pct": 50.0, "series": "excitation"}
AT_10_A = {"op": "series_where", "value": 10.0, "series": "excitation"}
FAULT = {"fault": 20000 * 5 / 1200 * 13}
BURDEN = Gives(of="saturation", part="burden", over="injected_a")
WINDING = Gives(of="saturation", part="winding")
KNEE = Gives(of="saturation", part="knee")
READ_OFF = Gives(of="saturation", part="knee", derived=("knee", "emf"))
RULES: dict[str, Doc] = {
    "by rise": {"derive": [{"name": "knee", "label": "knee", "op": "knee"} | RISE]},
    "at 10 A": {"derive": [{"name": "emf", "label": "voltage at 10 A"} | AT_10_A]},
}
RELAY = Gives(of="clearing", part="relay", at={"applied_a": "study_current"})
OPEN = Gives(of="clearing", part="breaker", where={"operation": "open"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One question: its cards with what they give, and the sentences by hand."""

    question: str
    members: tuple[tuple[Doc, tuple[Gives, ...]], ...]
    known: dict[str, float]
    lacks: tuple[str, ...] = ()
    follows: tuple[str, ...] = ()


def card(
    title: str,
    *readings: Doc,
    points: int = 0,
    state: str = "begun",
    rule: str = "",
) -> Doc:
    """Return a card with a point for each reading, and some more."""
    labels = [one["label"] for one in readings] + [f"open {n}" for n in range(points)]
    return {
        "id": title,
        "title": title,
        "apparatus": {"label": "CT 1"},
        "state": state,
        "points": [
            {"id": label, "label": label, "given": {}, "rule_id": rule}
            for label in labels
        ],
        "readings": [
            {
                **one,
                "id": f"{title} {n}",
                "point_id": one["label"],
                "taken_at": f"2026-11-30T12:{n:02}:00Z",
            }
            for n, one in enumerate(readings)
        ],
    }


def reading(
    label: str,
    text: str,
    unit: str,
    *,
    corrected: float | None = None,
    verdict: str = "within",
    gone: bool = False,
    **conditions: Any,
) -> Doc:
    """Return a reading; its corrected value is what was typed unless it is given."""
    value = float(text.lstrip("<>")) if corrected is None else corrected
    return {
        "label": label,
        "text": text,
        "unit": unit,
        "conditions": conditions,
        "superseded_by": "another" if gone else None,
        "judgement": {"verdict": verdict, "corrected": value, "corrected_unit": unit},
    }


def _curve(verdict: str = "within") -> Doc:
    return reading("phase A", "264.4", "V", verdict=verdict, excitation=CURVE)


CURVES = card("Curve", _curve(), rule="by rise")
CLASSED = card("Curve", _curve(), rule="at 10 A")
LOOPS = card(
    "Burden",
    reading("phase A", "1.0", "V", injected_a=5.0),
    reading("residual", "1.75", "V", injected_a=5.0),
)
WOUND = card("Winding", reading("phase A", "330", "mOhm", corrected=400.0))
VOLTS = "Together: the voltage that the fault asks of the core = "
SUM = "(winding at 75 °C 0.4000 Ω (phase A) + burden 0.3500 Ω (residual)) × "
TIMES = "secondary fault current with its offset 1083 A = 812.5 V."
TRIP = card(
    "Relay",
    reading("2 × pickup", "2.1", "s", applied_a=960.0),
    reading("5 × pickup", "0.25", "s", applied_a=4020.0),
)
SHOT = card(
    "Breaker",
    reading("pole A open", "43", "ms", operation="open"),
    reading("pole B open", "45", "ms", operation="open"),
    reading("pole B close", "60", "ms", operation="close"),
)
STUDY = {"study": 0.3, "study_current": 4000.0}
SAID = (
    "Together: the clearing time = relay, at the current of the study 0.2500 s "
    "(5 × pickup) + breaker, last pole open 0.04500 s (pole B open) = 0.2950 s."
)

CASES: dict[str, Case] = {
    "a core that saturates": Case(
        question="saturation",
        members=((LOOPS, (BURDEN,)), (WOUND, (WINDING,))),
        known={**FAULT, "knee": 264.0},
        follows=(f"{VOLTS}{SUM}{TIMES}", "That is above the knee 264.0 V."),
    ),
    "the winding of the plate, one loop": Case(
        question="saturation",
        members=(
            (card("Burden", reading("phase A", "1.0", "V", injected_a=5.0)), (BURDEN,)),
        ),
        known={**FAULT, "knee": 650.0, "winding": 0.4},
        follows=(
            f"{VOLTS}(winding at 75 °C 0.4000 Ω + burden 0.2000 Ω (phase A)) × "
            "secondary fault current with its offset 1083 A = 650.0 V.",
            "That is at most the knee 650.0 V.",
        ),
    ),
    "the lowest knee as measured": Case(
        question="saturation",
        members=(
            (LOOPS, (BURDEN,)),
            (WOUND, (WINDING,)),
            (card("Knee", reading("A", "900", "V"), reading("B", "820", "V")), (KNEE,)),
        ),
        known={**FAULT, "knee": 264.0},
        follows=(f"{VOLTS}{SUM}{TIMES}", "That is at most the knee 820.0 V (B)."),
    ),
    # 6.1 of the reference: 264.41 V by rise, and 437.81 V at 10 A.
    "a knee read off the curve": Case(
        question="saturation",
        members=((LOOPS, (BURDEN,)), (WOUND, (WINDING,)), (CURVES, (READ_OFF,))),
        known={**FAULT, "knee": 900.0},
        follows=(f"{VOLTS}{SUM}{TIMES}", "That is above the knee 264.4 V (phase A)."),
    ),
    "of a C class the voltage at 10 A, in place of a knee": Case(
        question="saturation",
        members=((LOOPS, (BURDEN,)), (WOUND, (WINDING,)), (CLASSED, (READ_OFF,))),
        known=FAULT,
        follows=(
            f"{VOLTS}{SUM}{TIMES}",
            "That is above the voltage at 10 A 437.8 V (phase A).",
        ),
    ),
    "a curve that was not judged, or that no rule reads": Case(
        question="saturation",
        members=(
            (LOOPS, (BURDEN,)),
            (WOUND, (WINDING,)),
            (card("Curve", _curve("unjudged"), rule="by rise"), (READ_OFF,)),
            (card("Curve", _curve(), rule="of another"), (READ_OFF,)),
        ),
        known=FAULT,
        lacks=("Still missing: knee.",),
    ),
    "no fault current, no knee": Case(
        question="saturation",
        members=((LOOPS, (BURDEN,)), (WOUND, (WINDING,))),
        known={},
        lacks=(
            "Still missing: secondary fault current with its offset.",
            "Still missing: knee.",
        ),
    ),
    "what was not judged, only bounded, superseded or withdrawn gives nothing": Case(
        question="saturation",
        members=(
            (
                card(
                    "Burden",
                    reading("A", "1.0", "V", injected_a=5.0, verdict="unjudged"),
                    reading("B", "<0.1", "V", injected_a=5.0),
                    reading("C", "9", "V", injected_a=5.0, gone=True),
                    reading("D", "9", "V"),
                    points=2,
                ),
                (BURDEN,),
            ),
            (
                card("Winding", reading("A", "0.3", "Ohm"), state="withdrawn"),
                (WINDING,),
            ),
        ),
        known={**FAULT, "knee": 264.0},
        lacks=("Still missing: winding at 75 °C.", "Still missing: burden."),
    ),
    "relay and breaker": Case(
        question="clearing",
        members=((TRIP, (RELAY,)), (SHOT, (OPEN,))),
        known=STUDY,
        follows=(SAID, "That is at most the clearing time of the study 0.3000 s."),
    ),
    "slower than the study": Case(
        question="clearing",
        members=((TRIP, (RELAY,)), (SHOT, (OPEN,))),
        known={**STUDY, "study": 0.29},
        follows=(SAID, "That is above the clearing time of the study 0.2900 s."),
    ),
    "the relay was not read at the current of the study": Case(
        question="clearing",
        members=((TRIP, (RELAY,)), (SHOT, (OPEN,))),
        known={"study": 0.3, "study_current": 3000.0},
        lacks=("Still missing: relay, at the current of the study.",),
    ),
    "gas above its alarm": Case(
        question="density",
        members=(
            (
                card("Gas", reading("tank", "151.3", "kPa", corrected=150.2)),
                (Gives(of="density", part="fill"),),
            ),
        ),
        known={"alarm": 138.0},
        follows=(
            "Together: what the gas at 20 °C stands above its alarm = pressure of the "
            "gas at 20 °C 150.2 kPa (tank) − alarm at 20 °C 138.0 kPa = 12.20 kPa.",
        ),
    ),
}
