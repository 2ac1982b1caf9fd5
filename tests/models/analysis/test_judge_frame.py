"""Readings in a frame against the same rows in a readings file."""

import csv
import io
import math
import random
from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.analysis.judge_frame import judge_frame
from models.criteria import load
from models.errors import InputError
from tests.laws import costly
from tests.models.analysis.row_by_row import judge_rows, read_rows

Row = dict[str, Any]
NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")
RELATIVE = 1e-9


def as_file(rows: Sequence[Row]) -> bytes:
    text = io.StringIO()
    names = dict.fromkeys(name for row in rows for name in row)
    writer = csv.DictWriter(text, ["id", *names])
    writer.writeheader()
    writer.writerows({"id": f"r{at}", **row} for at, row in enumerate(rows))
    return text.getvalue().encode()


def differences(rows: Sequence[Row], frame: pd.DataFrame) -> list[Any]:
    """Return where the frame's answer is not the file's."""
    wanted = judge_rows(read_rows(as_file(rows), load()))
    judged = judge_frame(frame, load())
    assert list(judged.columns) == ["verdict", *NUMBERS]
    assert judged.index.equals(frame.index)
    return [
        (row, found, judgement)
        for row, found, (_, judgement) in zip(
            rows, judged.to_dict("records"), wanted, strict=True
        )
        if not alike(found, judgement.as_json())
    ]


def alike(found: Row, wanted: Row) -> bool:
    return found["verdict"] == wanted["verdict"] and all(
        math.isnan(found[name])
        if wanted[name] is None
        else math.isclose(found[name], wanted[name], rel_tol=RELATIVE)
        for name in NUMBERS
    )


def made_up(dice: random.Random) -> Row:
    """Return a row of any test, now and then with a cell left blank."""
    name, value, units = dice.choice(
        (
            ("insulation_resistance", 5.0, ("GOhm", "GΩ", "MOhm")),
            ("contact_resistance", 40.0, ("uOhm", "µΩ", "mOhm")),
            ("contact_resistance", 40.0, ("uOhm",)),
            ("relay_timing", 5.9, ("s", "ms")),
            ("vacuum_integrity", 0.01, ("Pa", "Torr")),
            ("dielectric_withstand", 27.0, ()),
            ("breaker_timing", 30.0, ("ms",)),
            ("fuse_resistance", 20_500.0, ("uOhm", "mOhm")),
        )
    )
    outcomes = {"relay_timing": ("no_trip",), "vacuum_integrity": ("held",)}
    held = {"dielectric_withstand": ("held", "broke_down")}
    words = (outcomes | held).get(name, ())
    if not units or (words and dice.random() < 0.4):
        text, unit = dice.choice(words), ""
    else:
        sign = dice.choice(("", "", "", "", ">", "<"))
        text = f"{sign}{value * dice.lognormvariate(0, 0.3):.3g}"
        unit = dice.choice(units)
    conditions = {
        "gear": dice.choice(("metal_clad", "gas_insulated")),
        "rated_kv": dice.choice(("15", "15.0", "38")),
        "group": dice.choice(("", "1", "2", "3", "4", "5")),
        "temperature_c": dice.choice(("20", "31.5", "-40")),
        "humidity_pct": dice.choice(("", "40", "95")),
        "test_kv": dice.choice(("2.5", "27", "28.5")),
        "supply": dice.choice(("ac", "dc")),
        "method": dice.choice(("ac", "dc", "magnetron")),
        "duration_s": dice.choice(("60", "59")),
        "test_current_a": dice.choice(("100", "200", "50")),
        "conductor": dice.choice(("", "copper", "copper", "aluminium")),
        "limit": dice.choice(("", "", "45")),
        "curve": dice.choice(("ieee_very_inverse", "iec_standard_inverse")),
        "pickup_a": dice.choice(("480", "100")),
        "applied_a": dice.choice(("1440", "480", "600")),
        "time_dial": dice.choice(("2", "0.5")),
        "accuracy": dice.choice(
            ("", "5% + 0.02", "1%", "0..30: 5%; 30..60: 1% + 2% range", "1..2: 0.1")
        ),
        "earliest": dice.choice(("", "", "20")),
        "spread_limit": dice.choice(("", "2", "10")),
    }
    kept = {n: cell if dice.random() < 0.95 else "" for n, cell in conditions.items()}
    return {"test": name, "value": text, "unit": unit, **kept}


@pytest.mark.property
@costly(3, house=1)
@given(seed=st.integers(0, 2**32))
def test_frame_is_judged_as_the_file(seed: int) -> None:
    dice = random.Random(seed)
    rows = [made_up(dice) for _ in range(1500)]
    assert differences(rows, pd.DataFrame(rows)) == []


POLES = [
    {"test": "contact_resistance", "group": "52-3", "value": value, "unit": unit}
    | {"temperature_c": 20.0, "test_current_a": 100.0, "limit": limit}
    for value, unit, limit in (
        (37.9, "uOhm", ""),
        (0.0388, "mOhm", ""),
        (61.7, "uOhm", 60),
    )
]


def test_group_of_several_rules_is_one_group() -> None:
    """Two of the poles have no maker's limit: another rule than the third's."""
    judged = judge_frame(pd.DataFrame(POLES, index=list("abc")), load())
    assert differences(POLES, pd.DataFrame(POLES)) == []
    assert dict(judged["verdict"]) == {"a": "within", "b": "within", "c": "outside"}
    assert judged.loc["b", "limit_high"] == pytest.approx(1.5 * 37.9)


def test_cells_may_be_numbers_and_missing_ones_are_blank() -> None:
    rows = [
        {"test": "insulation_resistance", "value": 4.2, "unit": "GOhm", "rated_kv": 15}
        | {"temperature_c": temperature_c, "test_kv": 2.5, "gear": "metal_clad"}
        for temperature_c in (31.0, "", 20)
    ]
    frame = pd.DataFrame(rows).replace("", np.nan)
    assert frame["value"].dtype == float
    assert differences(rows, frame) == []
    judged = judge_frame(frame, load())
    assert list(judged["verdict"]) == ["within", "unjudged", "outside"]


def test_no_rows_give_no_rows() -> None:
    assert len(judge_frame(pd.DataFrame({"test": [], "value": []}), load())) == 0


def test_duplicate_labels_are_judged_by_place() -> None:
    frame = pd.DataFrame(POLES, index=[7, 7, 7])
    assert list(judge_frame(frame, load())["verdict"]) == [
        "within",
        "within",
        "outside",
    ]


SOUND = {
    "test": "insulation_resistance",
    "value": "4.20",
    "unit": "GOhm",
    "rated_kv": "15",
    "accuracy": "5%",
}
BAD_CELLS = {
    "comma": ("value", "4,20", "has a comma"),
    "not a number": ("value", float("nan"), "must not be blank"),
    "infinite": ("value", float("inf"), "'inf' is not a number"),
    "out of all proportion": ("value", 1e30, "out of all proportion"),
    "negative": ("value", "-4.2", "cannot be negative"),
    "outcome": ("value", "held", "does not fit insulation resistance"),
    "unit": ("unit", "uOhm", "does not fit insulation resistance"),
    "no unit": ("unit", None, "No unit is given"),
    "test": ("test", "insulation", "is none of"),
    "no test": ("test", "", "must not be blank"),
    "rating of nothing": ("rated_kv", "0", "0 must be above 0 and"),
    "infinite rating": ("rated_kv", -math.inf, "is not a number"),
    "accuracy": ("accuracy", "5 percent", "is not an accuracy"),
}


@pytest.mark.parametrize(("name", "cell", "said"), BAD_CELLS.values(), ids=BAD_CELLS)
def test_bad_cell_is_refused_with_its_place(name: str, cell: Any, said: str) -> None:
    frame = pd.DataFrame([SOUND, SOUND | {name: cell}, SOUND], index=[11, 12, 13])
    with pytest.raises(InputError) as refused:
        judge_frame(frame, load())
    assert [fault.field for fault in refused.value.faults] == [f"row 12, column {name}"]
    assert said in refused.value.faults[0].message


def test_every_fault_is_said_at_once() -> None:
    bad = SOUND | {"value": "4,2", "rated_kv": "x"}
    with pytest.raises(InputError) as refused:
        judge_frame(pd.DataFrame([bad, SOUND, bad]), load())
    assert {fault.field for fault in refused.value.faults} == {
        f"row {row}, column {name}" for row in (0, 2) for name in ("value", "rated_kv")
    }


def test_column_that_is_unknown_or_missing_is_refused() -> None:
    frame = pd.DataFrame([{"test": "relay_timing", "temprature_c": 20}])
    with pytest.raises(InputError) as refused:
        judge_frame(frame, load())
    assert [fault.field for fault in refused.value.faults] == [
        "column temprature_c",
        "column value",
    ]
