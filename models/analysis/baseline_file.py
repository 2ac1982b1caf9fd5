"""The baseline with the latest round beside it, as the frame of a file."""

import pandas as pd

from models.analysis.round_frames import IDENTITY

# Of each of the two rounds: the file's word after its name, the table's.
OF_A_READING = {
    "taken_at": "at",
    "typed": "text",
    "typed_unit": "unit",
    "at_20_degc": "value",
    "uncertainty": "uncertainty",
    "bound": "bound",
    "verdict": "verdict",
}


def baseline_file(
    table: pd.DataFrame,
    *,
    site: str,
    lineup: str,
    baseline_round: str,
    latest_round: str,
) -> pd.DataFrame:
    """Return the file's frame of a table that `compare_rounds` gave.

    A point a row, the unit of each number beside it; a cell without a value is NaN.
    *latest_round* stands where that round has a reading.
    """
    read = table["latest_at"].notna()
    frame = pd.DataFrame(index=table.index)
    frame["site"], frame["lineup"] = site, lineup
    for name in ("cell", "apparatus", *IDENTITY, "procedure", "detail", "point"):
        frame[name] = table[name]
    frame["built_year"] = frame["built_year"].astype("Int64")  # beside one without
    frame["baseline_round"] = baseline_round
    _add_reading(frame, table, "baseline")
    frame["latest_round"] = pd.Series(latest_round, table.index).where(read)
    _add_reading(frame, table, "latest")
    then, now = table["baseline_value_unit"], table["latest_value_unit"]
    frame["unit_at_20_degc"] = then.where(table["baseline_at"].notna(), now)
    frame["change_pct"] = table["change_pct"].map(lambda pct: round(pct, 2))
    return frame


def _add_reading(frame: pd.DataFrame, table: pd.DataFrame, name: str) -> None:
    for column, found in OF_A_READING.items():
        frame[f"{name}_{column}"] = table[f"{name}_{found}"]
