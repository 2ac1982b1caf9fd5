"""Words of version 3 about bands, angles and factors that are joined straight.

The worked numbers are those of the design's programme of tests (6.7, 6.10), worked out
with numpy apart from this program, or the arithmetic in *why*.
"""

from typing import Any

from tests.data.golden_case import hand
from tests.data.word_case import Typed, WordCase, WordProcedure, pct

HEAT = WordProcedure(name="made_up_heat", title="Heat", units=("K",))
ANGLE = WordProcedure(name="made_up_angle", title="Angle", units=("deg",), signed=True)
METAL = WordProcedure(name="made_up_factor", title="Factor", units=("uOhm",))
BANDS: dict[str, Any] = {
    "bounds": [
        {
            "kind": "bands",
            "bands": [
                {"to": 1, "verdict": "within", "word": "no finding"},
                {"to": 3, "verdict": "marginal", "word": "possible"},
                {"to": 15, "verdict": "outside", "word": "probable"},
                {"verdict": "outside", "word": "major"},
            ],
            "cite": 0,
        }
    ]
}


def kelvin(*texts: str, camera: bool = False) -> tuple[Typed, ...]:
    stated = pct(0.0, 2.0) if camera else None
    return tuple(Typed(text=text, unit="K", accuracy=stated) for text in texts)


def near(expected: Any) -> dict[str, Any]:
    bound = {"kind": "near_angle", "expected": expected, "within_deg": 5, "cite": 0}
    return {"bounds": [bound]}


def degrees(*texts: str, fixed: float | None = None) -> tuple[Typed, ...]:
    stated = None if fixed is None else pct(0.0, fixed)
    return tuple(Typed(text=text, unit="deg", accuracy=stated) for text in texts)


LOAD = {"load_kw": 4200.0, "load_kvar": 1800.0}
POINTER: dict[str, Any] = {
    "derive": [
        {
            "name": "phi",
            "label": "angle of the load",
            "op": "angle",
            "of": "load_kvar",
            "by": {"on": "load_kw", "unit": "kW"},
            "unit": "deg",
        },
        {
            "name": "apparent",
            "label": "apparent power",
            "op": "magnitude",
            "of": "load_kvar",
            "by": {"on": "load_kw", "unit": "kW"},
            "unit": "kVA",
        },
        {
            "name": "away",
            "label": "way round",
            "op": "minus",
            "by": 0.1,
            "wrap": 360,
            "unit": "deg",
        },
    ],
    "bounds": [
        {"kind": "near_angle", "expected": {"on": "phi", "times": -1}, "within_deg": 5},
        {"kind": "near", "of": "phi", "expected": 23.199, "fixed": 0.0005},
        {"kind": "near", "of": "apparent", "expected": 4569.5, "fixed": 0.05},
        {"kind": "low", "of": "away", "value": -30.0},
    ],
}
STRAIGHT: dict[str, Any] = {
    "correction": {
        "by": "factor",
        "join": "linear",
        "points": [[10, 1], [30, 3], [40, 2]],
        "reference_c": 20.0,
        "label": "maker's table",
    },
    "bounds": [{"kind": "high", "value": 20.0, "cite": 0}],
}

CASES = (
    WordCase(
        name="bands: a value in each, and exactly at an end",
        procedure=HEAT,
        rule=BANDS,
        readings=kelvin("0.5", "1", "2", "3", "6", "15", "15.1", "40"),
        by_hand=(
            *(hand("within", limit_high=1.0) for _ in range(2)),
            *(hand("marginal") for _ in range(2)),
            *(hand("outside") for _ in range(4)),
        ),
        why="A band holds its upper end; without an accuracy a value lies in one.",
    ),
    WordCase(
        name="bands: a camera that is right within 2 K",
        procedure=HEAT,
        rule=BANDS,
        readings=kelvin("2", "6", "0", "40", camera=True),
        by_hand=(
            hand("marginal", uncertainty=2.3094),
            hand("outside", uncertainty=2.3094),
            hand("marginal"),
            hand("outside"),
        ),
        why="U = 2 x 2 / sqrt(3) = 2.3094 K; 2 K touches within, marginal and outside "
        "bands; 6 - 2.3094 > 3 lies in bands that all say outside.",
    ),
    WordCase(
        name="bands: only a bound is known",
        procedure=HEAT,
        rule=BANDS,
        readings=kelvin(">20", ">2", "<1", "<2"),
        by_hand=(hand("outside"), hand("unjudged"), hand("within"), hand("unjudged")),
        why="Above 20 K every band says outside; above 2 K two say different things.",
    ),
    WordCase(
        name="near angle: the angles of a load in service, and two wires changed over",
        procedure=ANGLE,
        rule=near(-23.199),
        readings=degrees("-25.1", "96.6", "-18.2", "-18.1", "334.9"),
        by_hand=(
            hand("within", limit_low=-28.199, limit_high=-18.199),
            hand("outside"),
            hand("within"),
            hand("outside"),
            hand("within"),
        ),
        why="-25.1 + 23.199 = -1.901; 96.6 is 119.8 away; -18.2 is 4.999 and -18.1 "
        "5.099 away; 334.9 is the same angle as -25.1.",
    ),
    WordCase(
        name="near angle: 359.9 beside 0.1, with and without an accuracy",
        procedure=ANGLE,
        rule=near(0.1),
        readings=(*degrees("359.9", "-179.9"), *degrees("355.6", "354", fixed=1.0)),
        by_hand=(
            hand("within"),
            hand("outside"),
            hand("marginal", uncertainty=1.1547),
            hand("marginal"),
        ),
        why="0.2, 180, 4.5 and 6.1 degrees away; U = 2 / sqrt(3) = 1.1547: 4.5 + 1.15 "
        "> 5 and 6.1 - 1.15 < 5.",
    ),
    WordCase(
        name="near angle: a bound of an angle, and no expectation",
        procedure=ANGLE,
        rule=near({"on": "load_kvar", "label": "reactive power"}),
        readings=(
            Typed(text=">10", unit="deg", conditions={"load_kvar": 10.0}),
            Typed(text="10", unit="deg"),
        ),
        by_hand=(hand("unjudged"), hand("unjudged")),
        why="What lies above 10 degrees goes all the way round; the other has nothing "
        "that is expected.",
    ),
    WordCase(
        name="angle and magnitude: P 4.2 MW, Q 1.8 Mvar",
        procedure=ANGLE,
        rule=POINTER,
        readings=(
            Typed(text="-25.1", unit="deg", conditions=LOAD),
            Typed(text="-25.1", unit="deg", conditions={**LOAD, "load_kw": -4200.0}),
            Typed(text="-25.1", unit="deg", conditions={"load_kw": 4200.0}),
            Typed(text="0", unit="deg", conditions=dict.fromkeys(LOAD, 0.0)),
        ),
        by_hand=(
            hand("within"),
            hand("outside"),
            hand("unjudged"),
            hand("unjudged"),
        ),
        why="atan2(1.8, 4.2) = 23.199 degrees, the root of 4.2 and 1.8 squared 4.5695; "
        "a load that returns stands at 156.80. No power has no angle.",
    ),
    WordCase(
        name="factor: joined straight",
        procedure=METAL,
        rule=STRAIGHT,
        readings=tuple(
            Typed(text="10", unit="uOhm", conditions={"temperature_c": at})
            for at in (10.0, 20.0, 35.0, 41.0)
        ),
        by_hand=(
            hand("within", corrected=10.0),
            hand("within", corrected=20.0),
            hand("outside", corrected=25.0),
            hand("unjudged"),
        ),
        why="Half way from 1 to 3 is 2, from 3 to 2 is 2.5; never beyond the ends.",
    ),
)
