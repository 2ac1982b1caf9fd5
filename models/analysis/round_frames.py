"""Readings of rounds as frames, compared point by point.

A frame has a reading a row. What makes readings of different rounds comparable are
the columns PLACE: the same point of the same procedure on the same apparatus.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
import pandas as pd

PLACE = ["apparatus_id", "procedure", "detail", "point"]
Place = Any  # a tuple of the values of PLACE
IDENTITY = ["maker", "type", "serial", "built_year"]
POINT = [*PLACE, "cell", "apparatus", *IDENTITY]
# A reading as `values_of` gives it: what a comparison and its file need of it.
READING = [
    "at",
    "text",
    "unit",
    "value",
    "uncertainty",
    "verdict",
    "value_unit",
    "over_range",
    "under_range",
]
NUMBERS = ["value", "uncertainty"]


def points_frame(points: Sequence[Mapping[str, Any]]) -> pd.DataFrame:
    """Return the points of a round, which have PLACE and what else names them."""
    return pd.DataFrame.from_records(points, columns=None if points else POINT)


def rounds_frame(
    rounds: Iterable[tuple[object, Mapping[Place, Mapping[str, Any]]]],
) -> pd.DataFrame:
    """Return readings of rounds, which come by place, with `round_id` and READING.

    `bound`: `at_least` of a reading over range, `at_most` of one under range.
    """
    frame = pd.DataFrame.from_records(
        [
            (round_id, *place, *(reading[name] for name in READING))
            for round_id, values in rounds
            for place, reading in values.items()
        ],
        columns=["round_id", *PLACE, *READING],
    )
    over, under = frame["over_range"].astype(bool), frame["under_range"].astype(bool)
    frame["bound"] = np.where(under, "at_most", np.where(over, "at_least", ""))
    return frame.astype(dict.fromkeys(NUMBERS, "float64"))


def round_frame(values: Mapping[Place, Mapping[str, Any]]) -> pd.DataFrame:
    """Return the readings of one round as `rounds_frame` does, without its id."""
    return rounds_frame([(None, values)]).drop(columns="round_id")


def change_pct(latest: pd.DataFrame, base: pd.DataFrame) -> pd.Series:
    """Return the change of each row of *latest* from that of *base* in percent.

    NaN where it has no meaning: a reading over or under range is a bound and not a
    number, an outcome has no value, and nothing is a share of zero.
    """
    exact = latest["bound"].eq("") & base["bound"].eq("") & base["value"].ne(0)
    with np.errstate(all="ignore"):  # far beyond any reading it is infinite
        change = 100 * (latest["value"] / base["value"] - 1)
    return change.where(exact)


def worsening(change: pd.Series, worse: pd.Series) -> pd.Series:
    """Return how far each change went the wrong way: ln of the ratio, positive worse.

    *worse* says which way that is: `lower`, `higher` or `away`. NaN where nothing
    is left of the baseline.
    """
    with np.errstate(all="ignore"):
        ratio = np.log1p(change.where(change > -100) / 100)
    return ratio.where(worse.ne("away"), ratio.abs()).where(worse.ne("lower"), -ratio)


def compare_rounds(
    points: pd.DataFrame,
    base: pd.DataFrame,
    latest: pd.DataFrame,
    worse: Mapping[str, str],
) -> pd.DataFrame:
    """Return *points*, which have PLACE, with both rounds' readings beside them.

    The columns of *base* begin with `baseline_`, those of *latest* with `latest_`;
    `change_pct` and `worse` compare them. *worse*: the wrong way of each procedure.
    """
    table = points
    for name, frame in (("baseline", base), ("latest", latest)):
        beside = frame.rename(columns=lambda column, n=name: _beside(n, column))
        table = table.merge(beside, how="left", on=PLACE)
    then, now = _of(table, "baseline"), _of(table, "latest")
    change = change_pct(now, then)
    return table.assign(
        change_pct=change,
        worse=worsening(change, table["procedure"].map(worse)),
    )


def _beside(name: str, column: str) -> str:
    return column if column in PLACE else f"{name}_{column}"


def _of(table: pd.DataFrame, name: str) -> pd.DataFrame:
    """Return value and bound of one of the rounds in a table of both."""
    return pd.DataFrame(
        {column: table[f"{name}_{column}"] for column in ("value", "bound")}
    )


def changes_since(rounds: pd.DataFrame, base_round: object) -> pd.Series:
    """Return the change of each reading from that of the same point in *base_round*.

    *rounds*: readings of several rounds, each with its `round_id`. NaN for the
    baseline itself, and as `change_pct` has it.
    """
    own = rounds["round_id"].eq(base_round)
    base = rounds[own].drop_duplicates(PLACE)
    then = rounds[PLACE].merge(base[[*PLACE, "value", "bound"]], how="left", on=PLACE)
    then.index = rounds.index
    return change_pct(rounds, then).where(~own)
