"""Golden cases: what is said beside a verdict.

The verdicts are those of the readings without notes. What each note says is worked
out by hand in tests/models/judging/notes; here every reader says it to the letter.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

KV15 = Subject(gear="metal_clad", rated_kv=15.0)
HIGH_UP = Subject(gear="metal_clad", rated_kv=15.0, altitude_m=2000.0)
VERY_INVERSE = Subject(curve="ieee_very_inverse", pickup_a=480.0, time_dial=2.0)
FIVE_PCT = {"pct": 5.0, "fixed": 0.03, "unit": None}
WITHIN, MARGINAL, OUTSIDE = hand("within"), hand("marginal"), hand("outside")


def insulation(
    name: str,
    text: str = "6.0",
    found: Hand = WITHIN,
    accuracy: dict[str, Any] | None = None,
    subject: Subject = KV15,
    **conditions: Any,
) -> Case:
    at = {"temperature_c": 20.0, "test_kv": 2.5, **conditions}
    known = {one: value for one, value in at.items() if value is not None}
    return Case(
        name=f"notes: {name}",
        procedure="insulation_resistance",
        subject=subject,
        readings=(Given(text=text, unit="GOhm", accuracy=accuracy, conditions=known),),
        by_hand=(found,),
        why="15 kV class: 5 GOhm at 20 degC; notes change nothing",
    )


def withstand(name: str, subject: Subject = KV15, **conditions: Any) -> Case:
    at = {"supply": "dc", "dc_consent": "book", "test_kv": 37.5, "duration_s": 60.0}
    at |= conditions
    return Case(
        name=f"notes: {name}",
        procedure="dielectric_withstand",
        subject=subject,
        readings=(Given(text="held", conditions=at),),
        by_hand=(WITHIN,),
        why="37.5 kV dc for a minute (27 kV ac); notes change nothing",
    )


RISK = (
    insulation("risk, far above", "50", WITHIN, FIVE_PCT),
    insulation("risk, just above", "5.33", MARGINAL, FIVE_PCT),
    insulation("risk, at the limit", "5.00", MARGINAL, FIVE_PCT),
    insulation("risk, below", "4.8", MARGINAL, FIVE_PCT),
    insulation("risk, far below", "4.4", OUTSIDE, FIVE_PCT),
    insulation("risk, in another unit", "0.9", OUTSIDE, FIVE_PCT),
    insulation("risk, of a bound", ">6", WITHIN, FIVE_PCT),
    insulation(
        "risk, of next to nothing", "6", WITHIN, {**FIVE_PCT, "pct": 1e-9, "fixed": 0.0}
    ),
    Case(
        name="notes: risk, between two limits",
        procedure="relay_timing",
        subject=VERY_INVERSE,
        readings=tuple(
            Given(
                text=text,
                unit="s",
                accuracy={"pct": 1.0, "fixed": 0.03, "unit": None},
                conditions={"applied_a": 1440.0},
            )
            for text in ("5.88", "6.1", "6.179", "5.5", "no_trip")
        ),
        by_hand=(WITHIN, MARGINAL, MARGINAL, MARGINAL, OUTSIDE),
        why="5.8845 s ± 5 %: 5.590 to 6.179 s; U about 0.1 s",
    ),
    Case(
        name="notes: risk, where no time is too early",
        procedure="relay_timing",
        subject=Subject(curve="definite_time", pickup_a=480.0, time_dial=0.02),
        readings=(
            Given(
                text="0.04",
                unit="s",
                accuracy={"pct": 0.0, "fixed": 0.01, "unit": None},
                conditions={"applied_a": 960.0},
            ),
        ),
        by_hand=(WITHIN,),
        why="0.02 ± 0.035 s: 0 to 0.055 s; U 0.0115 s",
    ),
    Case(
        name="notes: risk, of a maximum beside a comparison",
        procedure="contact_resistance",
        subject=Subject(conductor="copper", limit=60.0),
        readings=tuple(
            Given(
                text=text,
                unit="uOhm",
                accuracy={"pct": 0.5, "fixed": 0.2, "unit": None},
                conditions={"temperature_c": 14.0, "test_current_a": 100.0},
            )
            for text in ("37.9", "58.4")
        ),
        by_hand=(WITHIN, OUTSIDE),
        why="58.4 / 37.9 = 1.541, U 0.023: more than 1.5 times",
    ),
    Case(
        name="notes: risk, of a pressure",
        procedure="vacuum_integrity",
        subject=Subject(rated_kv=15.0),
        readings=(
            Given(
                text="0.0098",
                unit="Pa",
                accuracy={"pct": 10.0, "fixed": 0.0, "unit": None},
                conditions={"method": "magnetron"},
            ),
        ),
        by_hand=(MARGINAL,),
        why="0.0098 Pa against 0.01; U 0.0011",
    ),
)

MOISTURE = (
    insulation("humid", humidity_pct=75.0),
    insulation("not humid", humidity_pct=74.9),
    insulation("dew point far", humidity_pct=50.0, air_temperature_c=22.5),
    insulation("dew point near", humidity_pct=78.0, air_temperature_c=22.5),
    insulation("dew point passed", humidity_pct=80.0, air_temperature_c=25.0),
    insulation("saturated", humidity_pct=100.0),
    insulation("no humidity can be 0 %", humidity_pct=0.0),
    insulation("no humidity can be above 100 %", humidity_pct=104.0),
    insulation("air too hot", humidity_pct=40.0, air_temperature_c=60.5),
    insulation(
        "cold air", "12", temperature_c=5.0, humidity_pct=31.0, air_temperature_c=-3.5
    ),
    insulation(
        "only the air is known",
        found=hand("unjudged"),
        temperature_c=None,
        humidity_pct=40.0,
        air_temperature_c=21.0,
    ),
    withstand("moisture beside a withstand", humidity_pct=60.0, air_temperature_c=12.0),
    withstand("moisture as once named", humidity_pct=60.0, temperature_c=12.0),
)

ALTITUDE = (
    withstand("altitude", HIGH_UP),
    *(
        withstand(
            f"altitude {metres:g} m",
            Subject(gear="metal_clad", rated_kv=15.0, altitude_m=metres),
        )
        for metres in (-50.0, 1000.0, 1000.5, 1500.0, 2345.6, 3000.0, 4000.0)
    ),
    Case(
        name="notes: altitude beside a breakdown",
        procedure="dielectric_withstand",
        subject=HIGH_UP,
        readings=(
            Given(text="broke_down", conditions={"supply": "ac", "test_kv": 20.0}),
        ),
        by_hand=(OUTSIDE,),
        why="it broke down",
    ),
)

TIMED = tuple(
    insulation(f"over time: {name}", text, timed=timed, **more)
    for name, text, timed, more in (
        ("both ratios", "5.5", "15:1.2 30:3.9 60:5.5 600:9.1", {}),
        ("index below 1", "6", "60:6 600:5.9", {}),
        ("index of 1", "6", "60:6 600:6.0", {}),
        ("index of 4", "6", "60:6 600:24", {}),
        ("in the gap", "6", "30:4.6 60:6", {}),
        ("over range at last", "6", "60:6 600:>20", {}),
        ("over range at first", ">6", "60:>6 600:20", {}),
        ("over range in both", ">6", "60:>6 600:>20", {}),
        ("under range at first", "6", "30:<4 60:6", {}),
        ("no minute", "6", "30:4 600:9", {}),
        ("another value after a minute", "6", "30:4 60:6.1", {}),
        ("a bound after a minute", "6", "30:4 60:>6", {}),
        ("so high that it means nothing", "13", "60:13 600:20", {}),
        ("a bound so high", ">13", "30:4 60:>13", {}),
        ("in a warm room", "6", "60:6 600:20", {"temperature_c": 33.0}),
        ("decimal comma", "6", "60:6,1", {}),
        ("nothing", "6", " ", {}),
        ("twice the same time", "6", "60:6 60:6", {}),
        ("falling times", "6", "60:6 30:5", {}),
        ("not a number", "6", "60:nan", {}),
        ("no colon", "6", "60 6", {}),
        ("odd blanks and marks", "6", "\u00a030:4.5\u2003 60:\ufeff6 600: ", {}),
        ("odd blanks that are read", "6", "\u00a030:4.5\u2003 60:\ufeff6", {}),
    )
)

STEPS = tuple(
    insulation(f"steps: {name}", steps=steps)
    for name, steps in (
        ("the same", "1:6 2.5:6.0"),
        ("a quarter less", "1:8 2.5:6.0"),
        ("a fall", "0.5:9.5 1:9 2.5:6.0"),
        ("a rise", "1:4 2.5:6"),
        ("one", "2.5:6"),
        ("over range", "1:>8 2.5:6"),
        ("of nothing", "1:0 2.5:6"),
        ("a negative", "1:-8 2.5:6"),
        ("at no voltage", "0:8 2.5:6"),
        ("an outcome", "1:held 2.5:6"),
    )
)

LEAKAGE = tuple(
    withstand(f"leakage: {name}", leakage=row)
    for name, row in (
        ("even", "10:3.1 20:6.0 37.5:11.5"),
        ("faster at the last", "10:3.1 20:6.0 37.5:15"),
        ("uneven before", "10:5 20:20 37.5:15"),
        ("slower", "10:10 37.5:12"),
        ("one", "37.5:15"),
        ("bounds", "10:<0.1 20:<0.1"),
        ("none flowed", "10:0 37.5:0.0"),
        ("small", "10:0.000012 37.5:5e-5"),
        ("not to be read", "10:1 20:x"),
    )
)

AC = (
    Case(
        name="notes: leakage of an ac test is not spoken of",
        procedure="dielectric_withstand",
        subject=KV15,
        readings=(
            Given(
                text="held",
                conditions={
                    "supply": "ac",
                    "test_kv": 27.0,
                    "duration_s": 60.0,
                    "leakage": "10:3 27:9",
                },
            ),
        ),
        by_hand=(WITHIN,),
        why="27 kV ac for a minute",
    ),
)

OIL = Subject(gear="metal_clad", rated_kv=15.0, insulation="oil")
KV27 = Subject(gear="metal_clad", rated_kv=27.0)
BESIDE = (
    insulation("doubtful factor, solid", "6.0", temperature_c=17.0),
    insulation("doubtful factor, oil", "6.0", subject=OIL, temperature_c=17.0),
    insulation("doubtful factor, at its own row", "6.5", temperature_c=15.0),
    insulation("no doubt at the next row", "8.0", temperature_c=10.0),
    insulation("another print", "12", subject=KV27, test_kv=5.0),
)

CASES = (*BESIDE, *RISK, *MOISTURE, *ALTITUDE, *TIMED, *STEPS, *LEAKAGE, *AC)
