"""What a rule says beside a verdict of the figures that it rests on."""

from collections.abc import Iterator

from models.judging.notes import beside
from models.judging.notes.placing import Made
from models.judging.quantities import said_unit
from models.judging.tables import Row, Table
from models.judging.wording import plain


def doubtful_rows(table: Table, column: str) -> Iterator[Made]:
    """Yield a note for each doubtful factor, said between the rows beside its own.

    *table* has its rows by `temperature_c`. A figure that somebody corrected by a
    licensed copy is no longer in doubt.
    """
    for before, row, after in zip(
        table.rows, table.rows[1:], table.rows[2:], strict=False
    ):
        doubt = row.get(f"{column}_doubtful")
        if doubt is None or row.get("checked"):
            continue
        low, high = before["temperature_c"], after["temperature_c"]
        yield beside.make(
            "beside.doubtful_row",
            {"low": f"{plain(low)} °C", "high": f"{plain(high)} °C", "doubt": doubt},
            [table.cite_column(column, note="correction factors")],
            on="temperature_c",
            above=low,
            below=high,
        )


def other_print(row: Row, table: Table, other: Table) -> Made | None:
    """Return the note that says what another print has; None where it says the same.

    None also for a row that somebody compared with a licensed copy. Both tables
    have `minimum` and `test_kv`, a row a class.
    """
    there = other.find(lambda one: bool(one["class_kv"] == row["class_kv"]))
    if there is None or row.get("checked") or _said(there) == _said(row):
        return None
    unit = said_unit(table.unit)
    parts = {
        "row": row["row"],
        "print": f"{other.document}, {other.edition}",
        "other": f"{plain(there['minimum'])} {unit}",
        "other_kv": f"{plain(there['test_kv'])} kV",
        "own": f"{plain(row['minimum'])} {unit}",
        "own_kv": f"{plain(row['test_kv'])} kV",
    }
    return beside.make("beside.other_print", parts, [other.cite(there)])


def _said(row: Row) -> tuple[float, float]:
    return row["minimum"], row["test_kv"]
