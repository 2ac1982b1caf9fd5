"""Words of version 3 that take a row of readings, and gates on it."""

from typing import Any

from tests.data.golden_case import hand
from tests.data.word_case import Typed, WordCase, WordProcedure, pct

EXCITED = WordProcedure(name="made_up_excited", title="Excited", units=("V", "kV"))
EARTH = WordProcedure(name="made_up_earth", title="Earth", units=("Ohm", "mOhm"))
LOSS = WordProcedure(name="made_up_loss", title="Loss", units=("1e-3",))

# I = 0.05 (V/300)^0.7 + 0.05 (V/300)^14 A to four digits: design reference 6.1.
CURVE = (
    "10:0.004624 20:0.007511 40:0.01220 60:0.01621 80:0.01982 100:0.02317 "
    "125:0.02709 150:0.03078 175:0.03431 200:0.03782 220:0.04089 240:0.04497 "
    "260:0.05198 280:0.06667 300:0.1000 320:0.1757 340:0.3430 360:0.6988 380:1.427 "
    "400:2.867 420:5.619 440:10.72"
)
RISE: dict[str, Any] = {"op": "knee", "series": "excitation", "by": "rise", "unit": "V"}
RISE |= {"step_pct": 10, "value_pct": 50, "name": "knee", "label": "knee"}
SLOPE: dict[str, Any] = {
    "op": "knee",
    "series": "excitation",
    "by": "slope",
    "unit": "V",
}
SLOPE |= {"name": "knee", "label": "knee", "degrees": 45}
EMF: dict[str, Any] = {"name": "emf", "label": "voltage at 10 A", "op": "series_where"}
EMF |= {"series": "excitation", "value": 10.0, "unit": "V"}


def knee_of(**word: Any) -> dict[str, Any]:
    """Return a rule with one knee, which is to lie at 250 V at least."""
    return {
        "derive": [word],
        "bounds": [{"kind": "low", "of": "knee", "value": 250.0, "cite": 0}],
    }


TERMINAL: dict[str, Any] = {
    "derive": [
        EMF,
        {
            "name": "terminal",
            "label": "terminal voltage",
            "op": "minus",
            "of": "emf",
            "by": 40.0,
            "unit": "V",
        },
    ],
    "bounds": [{"kind": "low", "of": "terminal", "value": 400.0, "cite": 0}],
}
GATED: dict[str, Any] = {
    "gates": [
        {"series": "excitation", "least": 8, "rising": True},
        {
            "series": "excitation",
            "above": {"of": "knee", "least": 2},
            "gap_pct": 10,
            "reason": "The knee is a guess otherwise.",
        },
    ],
    **knee_of(**RISE),
    "notes": [{"say": "other_knee", "series": "excitation", "by": "slope"}],
}
GATED["notes"][0]["degrees"] = 45

# r = 1 m in uniform soil of 100 Ohm m: design reference 6.3.
FIFTY = "10:14.404 20:15.332 26:15.648 31:15.921 36:16.292 40:16.791"
EARTHED: dict[str, Any] = {
    "derive": [
        {
            "name": "spread",
            "label": "spread",
            "op": "series_spread",
            "series": "fall",
            "shares": [0.52, 0.62, 0.72],
            "share_of": "probe_m",
            "unit": "%",
        },
        {
            "name": "earth",
            "label": "resistance to earth",
            "op": "series_at",
            "series": "fall",
            "share": 0.618034,
            "share_of": "probe_m",
            "unit": "Ohm",
        },
    ],
    "gates": [{"on": "spread", "label": "spread", "at_most": 10.0, "unit": "%"}],
    "bounds": [{"kind": "high", "of": "earth", "value": 16.0, "cite": 0}],
}
TIP_UP: dict[str, Any] = {
    "derive": [
        {
            "name": "tip_up",
            "label": "tip-up",
            "op": "series_between",
            "series": "tan_delta",
            "late": 1.5,
            "early": 0.5,
            "as": "difference",
            "unit": "1e-3",
        },
        {
            "name": "times",
            "label": "ratio",
            "op": "series_between",
            "series": "tan_delta",
            "late": 1.5,
            "early": 0.5,
            "as": "ratio",
        },
        {
            "name": "at_u0",
            "label": "mean",
            "op": "series_at",
            "series": "tan_delta",
            "step": 1.0,
            "unit": "1e-3",
        },
    ],
    "bounds": [
        {"kind": "high", "of": "tip_up", "value": 5.0, "cite": 0},
        {"kind": "high", "of": "at_u0", "value": 4.0, "cite": 0},
        {"kind": "high", "of": "times", "value": 3.0, "cite": 0},
    ],
}


def curve(text: str = CURVE, accuracy: float = 0.0, value: str = "264") -> Typed:
    """Return a reading with an excitation curve."""
    stated = pct(accuracy) if accuracy else None
    return Typed(text=value, unit="V", accuracy=stated, conditions={"excitation": text})


def earth(text: str = FIFTY, probe: float | None = 50.0) -> Typed:
    """Return a reading with a fall of potential."""
    given = {} if probe is None else {"probe_m": probe}
    return Typed(text="15.9", unit="Ohm", conditions={"fall": text, **given})


def loss(text: str, accuracy: float = 0.0) -> Typed:
    """Return a reading with a dissipation factor at three voltages."""
    stated = pct(accuracy) if accuracy else None
    return Typed(text="2", unit="1e-3", accuracy=stated, conditions={"tan_delta": text})


def points(*wanted: int) -> str:
    """Return some points of the curve."""
    return " ".join(pair for n, pair in enumerate(CURVE.split()) if n in wanted)


CASES = (
    WordCase(
        name="knee by rise: 264.41 V of 22 points",
        procedure=EXCITED,
        rule=knee_of(**RISE),
        readings=(
            curve(),
            curve(points(*range(14))),
            curve(points(*range(15, 22))),
            curve(points(3)),
            curve("10:1 5:2"),
            Typed(text="264", unit="V"),
        ),
        by_hand=(
            hand("within", corrected=264.0),
            hand("unjudged", corrected=264.0),
            hand("unjudged", corrected=264.0),
            hand("unjudged", corrected=264.0),
            hand("unjudged", corrected=264.0),
            hand("unjudged", corrected=264.0),
        ),
        why=(
            "264.41 V of the design reference, scipy, is above 250; without 1.1 "
            "times it no current has risen by half; from 320 V on it rises more at "
            "once; one point, a row out of order and no row are no curve"
        ),
    ),
    WordCase(
        name="knee by slope: 226.38 V of 22 points",
        procedure=EXCITED,
        rule=knee_of(**SLOPE),
        readings=(
            curve(),
            curve(points(*range(10))),
            curve("50:0.5 100:1 150:1.51 200:2.05 250:9 300:90"),
            curve(accuracy=10.0),
        ),
        by_hand=(
            hand("outside", corrected=264.0),
            hand("unjudged", corrected=264.0),
            hand("unjudged", corrected=264.0),
            hand("marginal", corrected=264.0, uncertainty=264 * 0.2 / 3**0.5),
        ),
        why=(
            "226.38 V is below 250; up to 200 V the slope stays below 1; a toe of "
            "slope 1 marks no knee; with 10 % of reading U is 11.5 % of the knee: "
            "226.38 + 26.1"
        ),
    ),
    WordCase(
        name="knee by slope: 248.77 V at 30 degrees",
        procedure=EXCITED,
        rule=knee_of(**{**SLOPE, "degrees": 30}),
        readings=(curve(accuracy=0.5),),
        by_hand=(hand("marginal", corrected=264.0, uncertainty=264 * 0.01 / 3**0.5),),
        why=("248.77 V with U = 0.57735 % of it, 1.4363 V, reaches 250"),
    ),
    WordCase(
        name="series_where: 437.81 V at 10 A less 40 V",
        procedure=EXCITED,
        rule=TERMINAL,
        readings=(curve(), curve(accuracy=0.5), curve(points(*range(21)))),
        by_hand=(
            hand("outside", corrected=264.0),
            hand("marginal", corrected=264.0, uncertainty=264 * 0.01 / 3**0.5),
            hand("unjudged", corrected=264.0),
        ),
        why=(
            "397.81 V is below 400; U of 437.81 V is 2.5277 V at 0.5 %; up to 5.6 A"
            " no current of 10 A was reached"
        ),
    ),
    WordCase(
        name="a gate on a row: points, order, points above, and steps at the knee",
        procedure=EXCITED,
        rule=GATED,
        readings=(
            curve(),
            curve(points(9, 10, 11, 12, 13, 14, 15)),
            curve(CURVE.replace("200:0.03782", "200:0.03431")),
            curve(points(*range(13), 14)),
            curve(points(1, 3, 5, 7, 9, 10, 12, 14, 16, 18, 20)),
            curve("10:1 5:2"),
            Typed(text="264", unit="V"),
        ),
        by_hand=(hand("within", corrected=264.0),)
        + (hand("unjudged", corrected=264.0),) * 6,
        why=(
            "22 points of which nine lie above 264.41 V; seven points; no rise from"
            " 175 to 200 V; one point above the knee; steps of 15 % there; a row "
            "out of order; no row"
        ),
    ),
    WordCase(
        name="series_at and series_spread: 15.915 Ohm at 61.8 % of 50 m",
        procedure=EARTH,
        rule=EARTHED,
        readings=(
            earth(),
            earth("4:12.136 8:14.457 10.4:15.247 12.4:15.930 14.4:16.857", 20.0),
            earth("10:14.404 26:15.648 31:>15 36:16.292"),
            earth("10:14.404 26:15.648"),
            earth(probe=None),
        ),
        by_hand=(
            hand("within", corrected=15.9),
            hand("unjudged", corrected=15.9),
            hand("unjudged", corrected=15.9),
            hand("unjudged", corrected=15.9),
            hand("unjudged", corrected=15.9),
        ),
        why=(
            "between 15.648 at 26 m and 15.921 at 31 m, straight: 15.916 at 30.9017"
            " m, spread 4.04 %; at 20 m the spread is 10.05 %, above 10; beside a "
            "bound, beyond the last reading and without the probe's distance there "
            "is nothing"
        ),
    ),
    WordCase(
        name="series_between: tip-up from 0.5 to 1.5 times U0",
        procedure=LOSS,
        rule=TIP_UP,
        readings=(
            loss("0.5:2 1:3 1.5:4.5"),
            loss("0.5:2 1:5 1.5:4.5"),
            loss("0.5:10 1:3 1.5:14.5", 10.0),
            loss("0.5:2 1:3 1.5:>9"),
            loss("0.5:<2 1:3 1.5:4.5"),
            loss("0.5:2 1.5:4.5"),
            loss("0.5:-1 1:3 1.5:0"),
        ),
        by_hand=(
            hand("within", corrected=2.0),
            hand("outside", corrected=2.0),
            hand("marginal", corrected=2.0, uncertainty=0.4 / 3**0.5),
            hand("outside", corrected=2.0),
            hand("unjudged", corrected=2.0),
            hand("unjudged", corrected=2.0),
            hand("within", corrected=2.0),
        ),
        why=(
            "2.5, with 3 at U0 and a ratio of 2.25; 5 at U0 is above 4; U of 14.5 -"
            " 10 is hypot(14.5, 10) x 11.547 % = 2.03; more than 7 is outside; at "
            "least 2.5, and a ratio of at least 2.25; nothing at U0; 0 - -1 and 0 /"
            " -1 are below every limit"
        ),
    ),
)
