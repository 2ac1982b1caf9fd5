"""Words of version 3 that derive a value, and gates on it."""

from typing import Any

from tests.data.golden_case import hand
from tests.data.word_case import Typed, WordCase, WordProcedure, pct

VOLTS = WordProcedure(name="made_up_volts", title="Volts", units=("V", "kV"))
GAS = WordProcedure(name="made_up_gas", title="Gas", units=("kPa", "bar", "psi"))
METAL = WordProcedure(name="made_up_metal", title="Metal", units=("uOhm",))
BURDEN: dict[str, Any] = {
    "gates": [
        {"on": "injected_a", "label": "injected current", "at_least": 5.0, "unit": "A"}
    ],
    "derive": [
        {
            "name": "z",
            "label": "impedance",
            "op": "over",
            "of": "reading",
            "by": {"on": "injected_a", "label": "injected current", "unit": "A"},
            "unit": "Ohm",
        }
    ],
    "bounds": [{"kind": "high", "of": "z", "value": 1.25, "cite": 0}],
}
ABSOLUTE: dict[str, Any] = {
    "derive": [
        {
            "name": "absolute",
            "label": "absolute pressure",
            "op": "plus",
            "by": {"on": "air_pressure_kpa", "unit": "kPa"},
            "unit": "kPa",
            "when": {"pressure_as": "gauge"},
        }
    ],
    "bounds": [{"kind": "low", "of": "absolute", "value": 600.0, "cite": 0}],
}
ERROR: dict[str, Any] = {
    "derive": [
        {
            "name": "error",
            "label": "error",
            "op": "error_pct",
            "expected": 120,
            "unit": "%",
        }
    ],
    "bounds": [
        {"kind": "low", "of": "error", "value": -1.0, "cite": 0},
        {"kind": "high", "of": "error", "value": 1.0, "cite": 0},
    ],
}
LEAD: dict[str, Any] = {
    "correction": {"by": "metal", "reference_c": 20.0, "label": "copper", "k": 234.5},
    "derive": [
        {
            "name": "as_read",
            "label": "resistance as read",
            "op": "minus",
            "by": 2.0,
            "unit": "uOhm",
        },
        {
            "name": "contact",
            "label": "resistance of the contact",
            "op": "minus",
            "by": {"on": "lead_uohm", "unit": "uOhm"},
            "unit": "uOhm",
            "after": True,
        },
    ],
    "gates": [{"on": "contact", "at_most": 1000.0, "unit": "uOhm"}],
    "bounds": [{"kind": "high", "of": "contact", "value": 38.0, "cite": 0}],
}

CASES = (
    WordCase(
        name="over: 6.2 V at 5 A is 1.24 Ohm",
        procedure=VOLTS,
        rule=BURDEN,
        readings=(
            Typed(text="6.2", unit="V", conditions={"injected_a": 5.0}),
            Typed(text="6.3", unit="V", conditions={"injected_a": 5.0}),
            Typed(
                text="6.2",
                unit="V",
                accuracy=pct(1.0),
                conditions={"injected_a": 5.0},
                conditions_accuracy={"injected_a": pct(0.5)},
            ),
            Typed(
                text="6.25",
                unit="V",
                conditions={"injected_a": 5.1},
                conditions_accuracy={"injected_a": pct(0.5)},
            ),
            Typed(text="6.2", unit="V", conditions={"injected_a": 4.9}),
            Typed(text="6.2", unit="V"),
        ),
        by_hand=(
            hand("within", limit_high=None, corrected=6.2, uncertainty=None),
            hand("outside"),
            hand("marginal", uncertainty=0.071591),
            hand("within", uncertainty=None),
            hand("unjudged"),
            hand("unjudged"),
        ),
        why="6.2 / 5 = 1.24, 6.3 / 5 = 1.26 Ohm. With 1 % and 0.5 %: U of z = 1.24 x "
        "sqrt(1.1547^2 + 0.57735^2) % = 0.01601, and 1.24 + 0.016 is above 1.25. "
        "6.25 / 5.1 = 1.2255, U by the current alone 0.0071. 4.9 A is below 5 A. "
        "The limit is that of z, and not of the volts.",
    ),
    WordCase(
        name="over: by zero, and a bound",
        procedure=VOLTS,
        rule={**BURDEN, "gates": []},
        readings=(
            Typed(text="6.2", unit="V", conditions={"injected_a": 0.0}),
            Typed(text="<6", unit="V", conditions={"injected_a": 5.0}),
            Typed(text=">7", unit="V", conditions={"injected_a": 5.0}),
            Typed(text=">6", unit="V", conditions={"injected_a": 5.0}),
        ),
        by_hand=(
            hand("unjudged"),
            hand("within"),
            hand("outside"),
            hand("unjudged"),
        ),
        why="Nothing is divided by 0. Less than 6 V: at most 1.2 Ohm. More than 7 V: "
        "at least 1.4. More than 6 V: at least 1.2, which may be below 1.25.",
    ),
    WordCase(
        name="plus: a gauge and the air's pressure, or an absolute one as it is",
        procedure=GAS,
        rule=ABSOLUTE,
        readings=(
            Typed(
                text="520",
                unit="kPa",
                conditions={"pressure_as": "gauge", "air_pressure_kpa": 101.3},
            ),
            Typed(text="520", unit="kPa", conditions={"pressure_as": "absolute"}),
            Typed(text="6.1", unit="bar", conditions={"pressure_as": "absolute"}),
            Typed(text="520", unit="kPa", conditions={"pressure_as": "gauge"}),
            Typed(
                text="72.6",
                unit="psi",
                accuracy=pct(0.0, 0.5),
                conditions={"pressure_as": "gauge", "air_pressure_kpa": 101.3},
                conditions_accuracy={"air_pressure_kpa": pct(0.0, 1.0)},
            ),
        ),
        by_hand=(
            hand("within", corrected=520.0),
            hand("outside"),
            hand("within", corrected=610.0),
            hand("unjudged"),
            hand("marginal", corrected=500.559, uncertainty=3.98066),
        ),
        why="520 + 101.3 = 621.3 kPa. As absolute 520 is below 600, 6.1 bar = 610 "
        "above. 72.6 psi = 72.6 x 6.894757 = 500.559 kPa, U = 2 x 0.5 x 6.894757 "
        "/ sqrt(3) = 3.98066; with the air 601.859, U = sqrt(3.98066^2 + "
        "1.1547^2) = 4.1448.",
    ),
    WordCase(
        name="error: 119.4 on 120 is -0.5 %",
        procedure=VOLTS,
        rule=ERROR,
        readings=(
            Typed(text="119.4", unit="V"),
            Typed(text="118.7", unit="V"),
            Typed(text="121.2", unit="V"),
            Typed(text="119.4", unit="V", accuracy=pct(0.5)),
            Typed(text="118.0", unit="V", accuracy=pct(0.5)),
        ),
        by_hand=(
            hand("within", limit_low=None, limit_high=None),
            hand("outside"),
            hand("within"),
            hand("marginal", uncertainty=0.689356),
            hand("outside"),
        ),
        why="100 (119.4 / 120 - 1) = -0.5; 118.7: -1.0833; 121.2: 1.0, at the limit. "
        "U of 119.4 V is 0.689 V, of the error 0.5745 %: -1.07 is below -1. "
        "118.0: -1.667, U 0.568: -1.099 is below -1.",
    ),
    WordCase(
        name="minus, after the correction: a lead taken off",
        procedure=METAL,
        rule=LEAD,
        readings=(
            Typed(
                text="42",
                unit="uOhm",
                conditions={"temperature_c": 30.0, "lead_uohm": 3.0},
            ),
            Typed(
                text="43",
                unit="uOhm",
                conditions={"temperature_c": 30.0, "lead_uohm": 3.0},
            ),
            Typed(text="42", unit="uOhm", conditions={"temperature_c": 30.0}),
            Typed(
                text="1200",
                unit="uOhm",
                conditions={"temperature_c": 20.0, "lead_uohm": 3.0},
            ),
        ),
        by_hand=(
            hand("within", corrected=40.4121),
            hand("outside", corrected=41.3743),
            hand("unjudged"),
            hand("unjudged"),
        ),
        why="42 x 254.5 / 264.5 = 40.4121, less 3 = 37.412; 43: 41.3743, less 3 = "
        "38.374. Without the lead nothing can be taken off. 1197 is more than the "
        "gate lets pass.",
    ),
)
