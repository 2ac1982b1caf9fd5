"""Words of version 3 that compare with the group, the baseline, what is expected.

The worked numbers are those of the design's programme of tests, worked out with numpy
apart from this program, or the arithmetic in *why*.
"""

from tests.data.golden_case import hand
from tests.data.word_case import Typed, WordCase, WordProcedure, pct

POLES = WordProcedure(name="made_up_times", title="Times of poles", units=("s", "ms"))
FUSES = WordProcedure(name="made_up_fuses", title="Fuses", units=("uOhm", "mOhm"))
VOLTS = WordProcedure(name="made_up_volts", title="Volts", units=("V", "kV"))
AMPERES = WordProcedure(name="made_up_amperes", title="Amperes", units=("A", "mA"))
IN_STEP = {"bounds": [{"kind": "over_lowest", "by": 0.002, "cite": 0}]}
ALIKE = {
    "bounds": [{"kind": "high_of_lowest", "times": 1.15, "odd_share": 0.5, "cite": 0}]
}
BASELINE = {
    "bounds": [
        {
            "kind": "of_baseline",
            "value": 36.0,
            "u": 0.83138,
            "low_times": 0.8,
            "high_times": 1.2,
            "round": "2026-11-02",
            "cite": 0,
        }
    ]
}


def ms(*texts: str, accuracy: bool = True) -> tuple[Typed, ...]:
    stated = pct(0.0, 0.1) if accuracy else None
    return tuple(Typed(text=text, unit="ms", accuracy=stated) for text in texts)


def uohm(*texts: str, percent: float | None = None) -> tuple[Typed, ...]:
    stated = None if percent is None else pct(percent)
    return tuple(Typed(text=text, unit="uOhm", accuracy=stated) for text in texts)


CASES = (
    WordCase(
        name="over the lowest: differences of 1.7, 1.9, 2.1 and 2.3 ms against 2 ms",
        procedure=POLES,
        rule=IN_STEP,
        readings=ms("40.0", "41.7", "41.9", "42.1", "42.3"),
        by_hand=(
            hand("within", uncertainty=1.1547e-4, limit_high=0.042),
            hand("within", uncertainty=1.1547e-4, limit_high=0.042),
            hand("marginal"),
            hand("marginal"),
            hand("outside"),
        ),
        why="U = 2 x 0.1 / sqrt(3) = 0.11547 ms; Ud = sqrt(2) x that = 0.16330 ms. "
        "1.7 + 0.163 < 2; 1.9 + 0.163 > 2; 2.1 - 0.163 < 2; 2.3 - 0.163 > 2.",
    ),
    WordCase(
        name="over the lowest: exactly at the limit, without an accuracy",
        procedure=POLES,
        rule=IN_STEP,
        readings=ms("40", "42", "42.001", accuracy=False),
        by_hand=(hand("within"), hand("within"), hand("outside")),
        why="Simple acceptance: 42 - 40 = 2 ms is at the limit, 2.001 ms above it.",
    ),
    WordCase(
        name="over the lowest: a pole alone",
        procedure=POLES,
        rule=IN_STEP,
        readings=ms("40"),
        by_hand=(hand("unjudged"),),
        why="There is nothing to compare with, and no other limit.",
    ),
    WordCase(
        name="over the lowest: a pole alone with a latest time",
        procedure=POLES,
        rule={"bounds": [*IN_STEP["bounds"], {"kind": "high", "value": 0.05}]},
        readings=ms("40", accuracy=False),
        by_hand=(hand("within", limit_high=0.05),),
        why="40 ms is below 50 ms; the comparison says nothing.",
    ),
    WordCase(
        name="over the lowest: bounds in the group",
        procedure=POLES,
        rule=IN_STEP,
        readings=ms("<40", "41", "45", ">60", accuracy=False),
        by_hand=(
            hand("unjudged"),
            hand("unjudged"),
            hand("outside"),
            hand("outside"),
        ),
        why="The lowest lies from 0 to 40 ms: 41 may be 1 or 41 ms over it, 45 at "
        "least 5 ms, more than 60 at least 20 ms; whether the lowest itself is in "
        "step with another is not known.",
    ),
    WordCase(
        name="times the lowest: five fuses of six are above, the lowest is the odd one",
        procedure=FUSES,
        rule=ALIKE,
        readings=uohm("20500", "20510", "20490", "20500", "20480", "7200"),
        by_hand=(
            hand("outside", corrected=20500.0, limit_high=8280.0),
            hand("outside"),
            hand("outside"),
            hand("outside"),
            hand("outside"),
            hand("within", limit_high=8280.0),
        ),
        why="20500 / 7200 = 2.8472, more than 1.15; five of six are above 1.15 x 7200.",
    ),
    WordCase(
        name="times the lowest: one fuse of three is above, it is the odd one itself",
        procedure=FUSES,
        rule=ALIKE,
        readings=uohm("20500", "20400", "26000", percent=1.0),
        by_hand=(hand("within"), hand("within"), hand("outside")),
        why="26000 / 20400 = 1.2745, U of the ratio 1.2745 x sqrt(2) x 1.1547 % = "
        "0.0208; one of three is not more than half.",
    ),
    WordCase(
        name="times the baseline: 41, 42, 45 and 28 against 36",
        procedure=FUSES,
        rule=BASELINE,
        readings=uohm("41", "42", "45", "28", percent=2.0),
        by_hand=(
            hand("within", limit_low=28.8, limit_high=43.2, uncertainty=0.94685),
            hand("marginal"),
            hand("outside"),
            hand("marginal"),
        ),
        why="41 / 36 = 1.1389, Ur = 1.1389 x sqrt(2) x 2.3094 % = 0.037196: 1.1761 is "
        "below 1.2. 42 / 36 = 1.1667, Ur 0.0381: 1.2048 above. 45 / 36 = 1.25, Ur "
        "0.0408: 1.2092 above 1.2. 28 / 36 = 0.7778, Ur 0.0254: 0.8032 above 0.8.",
    ),
    WordCase(
        name="times the baseline: simply, and a bound",
        procedure=FUSES,
        rule=BASELINE,
        readings=uohm("43.2", "43.3", ">50", ">30", "<30", "<20"),
        by_hand=(
            hand("within"),
            hand("outside"),
            hand("outside"),
            hand("unjudged"),
            hand("unjudged"),
            hand("outside"),
        ),
        why="0.8 x 36 = 28.8 and 1.2 x 36 = 43.2. More than 50 is above; more than 30 "
        "and less than 30 may lie on either side; less than 20 is below.",
    ),
    WordCase(
        name="near a multiple of a condition: 300 A through 600:5 is 2.5 A",
        procedure=AMPERES,
        rule={
            "bounds": [
                {
                    "kind": "near",
                    "expected": {"on": "injected_a", "times": 5 / 600, "unit": "A"},
                    "pct": 5.0,
                    "cite": 0,
                }
            ]
        },
        readings=(
            Typed(text="2.4", unit="A", conditions={"injected_a": 300.0}),
            Typed(text="2.3", unit="A", conditions={"injected_a": 300.0}),
            Typed(text="2700", unit="mA", conditions={"injected_a": 300.0}),
            Typed(
                text="2.6",
                unit="A",
                accuracy=pct(2.0),
                conditions={"injected_a": 300.0},
            ),
            Typed(text="2.5", unit="A"),
        ),
        by_hand=(
            hand("within", limit_low=2.375, limit_high=2.625),
            hand("outside"),
            hand("outside", corrected=2.7),
            hand("marginal"),
            hand("unjudged", limit_low=None, limit_high=None),
        ),
        why="300 x 5 / 600 = 2.5 A; 5 % of it is 0.125 A. U of 2.6 A is 0.060 A, "
        "which reaches over 2.625 A. Without the current nothing is expected.",
    ),
    WordCase(
        name="near a multiple: 12.47 kV through 14400:120 is 103.92 V",
        procedure=VOLTS,
        rule={
            "bounds": [
                {
                    "kind": "near",
                    "expected": {"on": "load_kv", "times": 120 / 14.4, "unit": "kV"},
                    "pct": 0.5,
                    "fixed": 1.0,
                    "cite": 0,
                }
            ]
        },
        readings=(
            Typed(text="103.0", unit="V", conditions={"load_kv": 12.47}),
            Typed(text="105.0", unit="V", conditions={"load_kv": 12.47}),
        ),
        by_hand=(
            hand("within", limit_low=102.917, limit_high=104.917),
            hand("outside"),
        ),
        why="12.47 x 120 / 14.4 = 103.917 V; 0.5 % is 0.52 V, the fixed 1 V is more.",
    ),
    WordCase(
        name="near a fixed value, on one side only",
        procedure=VOLTS,
        rule={
            "bounds": [
                {
                    "kind": "near",
                    "expected": 120.0,
                    "pct": 10.0,
                    "above": False,
                    "cite": 0,
                }
            ]
        },
        readings=(
            Typed(text="107.9", unit="V"),
            Typed(text="108", unit="V"),
            Typed(text="200", unit="V"),
        ),
        by_hand=(
            hand("outside", limit_low=108.0, limit_high=None),
            hand("within"),
            hand("within"),
        ),
        why="120 less 10 % is 108 V; above there is no limit.",
    ),
    WordCase(
        name="near a line through points: a slope characteristic at 2.1",
        procedure=AMPERES,
        rule={
            "bounds": [
                {
                    "kind": "near",
                    "expected": {
                        "on": "restraint_pu",
                        "points": [[0, 0.3], [1.2, 0.3], [3, 0.75], [8, 3.75]],
                    },
                    "pct": 5.0,
                    "fixed": 0.02,
                    "cite": 0,
                }
            ]
        },
        readings=(
            Typed(text="0.55", unit="A", conditions={"restraint_pu": 2.1}),
            Typed(text="0.56", unit="A", conditions={"restraint_pu": 2.1}),
            Typed(text="0.31", unit="A", conditions={"restraint_pu": 0.5}),
            Typed(text="0.75", unit="A", conditions={"restraint_pu": 3.0}),
            Typed(text="4.0", unit="A", conditions={"restraint_pu": 8.1}),
        ),
        by_hand=(
            hand("within", limit_low=0.49875, limit_high=0.55125),
            hand("outside"),
            hand("within", limit_low=0.28, limit_high=0.32),
            hand("within", limit_low=0.7125, limit_high=0.7875),
            hand("unjudged"),
        ),
        why="0.3 + 0.45 x 0.9 / 1.8 = 0.525, 5 % is 0.02625. 5 % of 0.3 is 0.015, "
        "less than 0.02. At a point it is the point's. Beyond 8 the line is not "
        "known.",
    ),
)
