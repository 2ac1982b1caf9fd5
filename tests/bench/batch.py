"""The column-wise reader on many readings, against the bare arithmetic in numpy."""

import time
from collections.abc import Callable

import numpy as np

from models.criteria import load
from models.judging import Accuracy, Reading
from models.judging.batch import UNIT_CODES, Numbers, Readings, judge_columns
from models.procedures import Subject, compile_rule, judge
from tests.bench.measure import Measured

ROWS = 2_000_000
TURNS = 3  # the best of them is taken: what else runs on the machine only slows
JUDGEMENTS = 2_000
TIMES = 10  # turns of what is short
RULE = compile_rule(
    "insulation_resistance", Subject(gear="metal_clad", rated_kv=15.0), load()
)

# The longest way through the core: both ends of a band, each with the curve's time.
RELAY = compile_rule(
    "relay_timing",
    Subject(
        curve="iec_standard_inverse",
        pickup_a=100.0,
        time_dial=0.3,
        bands="iec_60255_151",
        tolerance_pct=5.0,
        current_error_pct=1.0,
    ),
    load(),
)


def run() -> list[Measured]:
    """Judge insulation resistance with uncertainty, in columns and one by one."""
    columns = readings(ROWS)
    judged = judge_columns(RULE, columns)
    verdicts, value = bare(columns)
    if not np.array_equal(judged.verdict, verdicts):
        raise ValueError("the bare arithmetic gives other verdicts")
    del judged, verdicts, value
    many = best(lambda: judge_columns(RULE, columns))
    least = best(lambda: bare(columns))
    one = best(scalar, TIMES) / JUDGEMENTS
    bare_one = best(lambda: scalar(working=False), TIMES) / JUDGEMENTS
    timed = best(relay, TIMES) / JUDGEMENTS
    return [
        Measured(
            bench="batch",
            what=f"{ROWS} rows",
            seconds=many,
            ratio=many / least,
            against="bare numpy",
        ),
        Measured(
            bench="batch",
            what=f"a row, {ROWS / many / 1e6:.1f} million a second",
            seconds=many / ROWS,
        ),
        Measured(
            bench="batch",
            what="one judgement with words",
            seconds=one,
            ratio=one / (many / ROWS),
            against="a row in columns",
        ),
        Measured(
            bench="batch",
            what="one judgement without",
            seconds=bare_one,
            ratio=bare_one / (many / ROWS),
            against="a row in columns",
        ),
        Measured(
            bench="batch",
            what="one of a relay with bands, without",
            seconds=timed,
            ratio=timed / bare_one,
            against="one judgement without",
        ),
    ]


def best(work: Callable[[], object], turns: int = TURNS) -> float:
    """Return the least processor seconds of some turns; numpy uses one core here."""
    found = []
    for _ in range(turns):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def readings(rows: int) -> Readings:
    """Return readings round the minimum at every temperature; alike at every run."""
    dice = np.random.default_rng(rows)
    value = dice.lognormal(np.log(5.0), 0.5, rows)
    return Readings(
        low=value,
        high=value,
        unit=np.array(UNIT_CODES.index("GOhm")),
        accuracy_pct=np.full(rows, 5.0),
        accuracy_fixed=np.full(rows, 0.02),
        conditions={
            "temperature_c": dice.uniform(5.0, 40.0, rows),
            "test_kv": np.full(rows, 2.5),
        },
    )


def bare(columns: Readings) -> tuple[Numbers, Numbers]:
    """Return verdict codes and corrected values by the arithmetic alone.

    Nothing is checked, every reading is a number, no gate is shut, and nothing is
    within 1e-9 of a limit.
    """
    points, factors = np.array(RULE.correction["points"]).T
    limit = RULE.bounds[0]["value"]
    at = columns.conditions["temperature_c"]
    factor = np.exp(np.interp(at, points, np.log(factors)))
    corrected = columns.low * 1e3 * factor
    half_width = columns.accuracy_pct / 100.0 * columns.low + columns.accuracy_fixed
    expanded = 2.0 * half_width / np.sqrt(3.0) * 1e3 * factor
    within = corrected - expanded >= limit
    outside = corrected + expanded < limit
    return np.where(within, 1, np.where(outside, 4, 3)), corrected


def scalar(*, working: bool = True) -> None:
    """Judge readings one by one, each another one; with *working* its words too."""
    accuracy = Accuracy(5.0, 0.02)
    for number in range(JUDGEMENTS):
        reading = Reading(
            key="r",
            text=f"{2 + number / 500:.3f}",
            unit="GOhm",
            accuracy=accuracy,
            conditions={"temperature_c": 5 + number / 100, "test_kv": 2.5},
        )
        judge([(RULE, reading)], working=working)


def relay() -> None:
    """Time a relay with bands and an error of current, one by one, without words."""
    accuracy = Accuracy(1.0, 0.001)
    for number in range(JUDGEMENTS):
        reading = Reading(
            key="r",
            text=f"{1 + number / 1000:.3f}",
            unit="s",
            accuracy=accuracy,
            conditions={"applied_a": 200.0 + number / 5},
        )
        judge([(RELAY, reading)], working=False)
