"""One drawing of each kind, for laws that hold for every drawing."""

from datetime import date
from typing import Any

from models import criteria
from models.criteria.gas import sf6_equation
from models.judging import Accuracy, Reading
from models.judging.gas import carry_pressure
from models.judging.series import LEAKAGE, STEPS, TIMED, parse_series
from models.procedures import Subject, compile_rule, judge
from webapp.drawing import (
    Fitted,
    Plate,
    Row,
    Seen,
    Series,
    Timed,
    elevation,
    limit_strip,
    series_curve,
    symbols,
    time_current,
    trend,
)
from webapp.drawing.correction import Factors, correction
from webapp.drawing.curve_family import curve_family
from webapp.drawing.gas_line import gas_line
from webapp.drawing.shapes import Drawing

SOLID_15_KV = {"gear": "metal_clad", "rated_kv": 15.0, "insulation": "solid"}
POLE_60 = {
    "gear": "metal_clad",
    "conductor": "copper",
    "limit": 60.0,
    "limit_unit": "uOhm",
}
VACUUM = {"gear": "metal_clad", "rated_kv": 15.0, "rated_withstand_kv": 36.0}
RELAY = {
    "gear": "metal_clad",
    "curve": "ieee_very_inverse",
    "pickup_a": 480.0,
    "time_dial": 2.0,
}
WARM = {"temperature_c": 20.0, "test_kv": 2.5}
OVER_TIME = parse_series("timed", "15:1.92 30:2.61 60:3.40 300:4.88 600:>5.31")
BENCH = {"temperature_c": 20.0, "test_current_a": 100.0}


def judged(
    procedure: str,
    subject: dict[str, Any],
    text: str,
    unit: str | None,
    conditions: dict[str, Any],
    accuracy: Accuracy | None = None,
) -> dict[str, Any]:
    """Return the judgement of one reading, as JSON."""
    rule = compile_rule(procedure, Subject(**subject), criteria.load())
    reading = Reading(
        key="one", text=text, unit=unit, conditions=conditions, accuracy=accuracy
    )
    return judge([(rule, reading)])[0].as_json()


def relay_rule(**subject: Any) -> dict[str, Any]:
    """Return a relay's rule as JSON."""
    made = compile_rule("relay_timing", Subject(**RELAY | subject), criteria.load())
    return made.to_json()


def cells(count: int, name: str = "Screens and chlorination") -> list[dict[str, str]]:
    """Return *count* cells of every kind, on a bus for each ten of them."""
    kinds = list(symbols())
    return [
        {
            "number": str(n + 1),
            "name": name,
            "kind": kinds[n % len(kinds)],
            "bus": f"bus {n // 10} · 2000 A",
        }
        for n in range(count)
    ]


def plates(count: int) -> list[Plate | None]:
    """Return plates: under way with findings, done, not begun, none."""
    four = [
        Plate(
            text="3 of 10 cards", share=0.3, findings=[("outside", 2), ("marginal", 1)]
        ),
        Plate(text="all signed", share=1.0, findings=[("within", 40)]),
        Plate(text="not begun", share=0.0),
        None,
    ]
    return [four[n % 4] for n in range(count)]


def seen(year: int, value: float, verdict: str = "within", **rest: Any) -> Seen:
    """Return one round's reading, in spring."""
    return Seen(at=date(year, 4, 7), value=value, verdict=verdict, **rest)


def poles(rounds: int) -> list[Series]:
    """Return three poles' contact resistances over *rounds* years, in uOhm."""
    return [
        Series(
            name=f"pole {pole}",
            points=[seen(2000 + n, start + n, u=0.6) for n in range(rounds)],
        )
        for pole, start in (("A", 41.0), ("B", 40.6), ("C", 33.0))
    ]


def sample_drawings() -> dict[str, Drawing]:
    """Return drawings by what they show."""
    drawn: dict[str, Drawing | None] = {
        "elevation of three": elevation(cells(3)),
        "elevation of forty with plates and links": elevation(
            cells(40),
            plates=plates(40),
            hrefs=[f"/cells/{n}?a=1&b=2" for n in range(40)],
            chosen=4,
            ratings="Rated 15 kV · 95 kV impulse",
            gear="metal_clad",
        ),
        "elevation cut on both sides": elevation(
            cells(6), cut_left=True, cut_right=True
        ),
        "strip of an insulation": limit_strip(
            judged(
                "insulation_resistance",
                SOLID_15_KV,
                "8.4",
                "GOhm",
                WARM,
                Accuracy(pct=5.0, fixed=0.02, unit="GOhm"),
            ),
            "8.4",
        ),
        "strip over range": limit_strip(
            judged("insulation_resistance", SOLID_15_KV, ">200", "GOhm", WARM), ">200"
        ),
        "strip far below": limit_strip(
            judged("insulation_resistance", SOLID_15_KV, "20", "kOhm", WARM), "20"
        ),
        "strip of a contact": limit_strip(
            judged("contact_resistance", POLE_60, "59.9", "uOhm", BENCH), "59.9"
        ),
        "strip far above": limit_strip(
            judged("contact_resistance", POLE_60, "5", "mOhm", BENCH), "5"
        ),
        "strip of a pressure": limit_strip(
            judged("vacuum_integrity", VACUUM, "2e-3", "Pa", {"method": "magnetron"}),
            "2e-3",
        ),
        "strip of a time": limit_strip(
            judged("relay_timing", RELAY, "14.1", "s", {"applied_a": 960.0}), "14.1"
        ),
        "trend of one round": trend(poles(1), unit="uOhm"),
        "trend of thirty": trend(poles(30), unit="uOhm", limit_high=60.0),
        "trend over decades": trend(
            [
                Series(
                    name="A-G",
                    points=[
                        seen(2024, 8400.0, u=500.0),
                        seen(2025, 200000.0, over_range=True),
                        seen(2026, 3000.0, "outside"),
                    ],
                )
            ],
            unit="MOhm",
            logarithmic=True,
            limit_low=5000.0,
        ),
        "curve": time_current(
            relay_rule(),
            [
                Timed(label="2 ×", applied_a=960.0, seconds=14.1, verdict="within"),
                Timed(label="0.9 ×", applied_a=432.0, seconds=None, verdict="within"),
                Timed(label="20 ×", applied_a=9600.0, seconds=1.9, verdict="outside"),
            ],
        ),
        "trend with a line and its band": trend(
            [
                Series(
                    name="pole C",
                    points=[seen(2024, 6e-4), seen(2025, 1.3e-3), seen(2026, 2.6e-3)],
                )
            ],
            unit="Pa",
            logarithmic=True,
            limit_high=1e-2,
            fitted=Fitted(
                days=[date(2024, 4, 7), date(2026, 4, 7), date(2029, 4, 7)],
                line=[6.2e-4, 2.7e-3, 2.4e-2],
                band=[(5e-4, 8e-4), (2.1e-3, 3.4e-3), (9e-3, 6e-2)],
            ),
        ),
        "readings over time": series_curve(TIMED, [Row(steps=OVER_TIME)], "GOhm"),
        "readings over time of three rounds": series_curve(
            TIMED,
            [Row(steps=OVER_TIME, name=str(year)) for year in (2024, 2025, 2026)],
            "GOhm",
        ),
        "step voltage": series_curve(
            STEPS, [Row(steps=parse_series("steps", "0.5:5.2 1:5.1 5:4.1"))], "GOhm"
        ),
        "leakage from nought": series_curve(
            LEAKAGE,
            [Row(steps=parse_series("leakage", "5:0 10:<3.1 20:6.4 37.5:16.8"))],
            "µA",
        ),
        "correction factors of two columns": correction(
            [
                Factors(
                    name="oil-immersed", points=[(-10, 0.125), (20, 1), (110, 509)]
                ),
                Factors(name="solid", points=[(-10, 0.25), (20, 1), (110, 63.2)]),
            ],
            reference_c=20.0,
        ),
        "inverse curves beside each other": curve_family(
            criteria.load().table("relay_curves").rows
        ),
        "line of constant density": gas_line(
            carry_pressure(sf6_equation(criteria.load()), 140.0, 8.0, 20.0),
            [(-30.0, 120.0), (20.0, 147.3), (60.0, 169.2)],
        ),
        "definite time": time_current(
            relay_rule(curve="definite_time", time_dial=0.3),
            [Timed(label="2 ×", applied_a=960.0, seconds=0.31, verdict="within")],
        ),
    }
    return {name: one for name, one in drawn.items() if one is not None}
