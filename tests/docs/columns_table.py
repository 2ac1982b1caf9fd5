"""Write the rows of docs/readings-file.md that the table of fields says.

python -m tests.docs.columns_table
"""

from pathlib import Path

from models.analysis.readings_file import CHOICES, FIELDS, SERIES
from models.fields import Field, Kind
from models.judging import series
from models.procedures import PROCEDURES

PAGE = Path(__file__).resolve().parents[2] / "docs" / "readings-file.md"
LAST_OF_THE_FILE = "\n| `point` |"


def table_rows() -> str:
    """Return a row of the table for each field that is a column."""
    fields = (_row(one) for one in FIELDS.values())
    return "".join((*fields, *map(_series_row, sorted(SERIES))))


def parts_of(page: str) -> tuple[str, str, str]:
    """Return what stands before the rows, the rows, and what follows them."""
    start = page.index("\n", page.index(LAST_OF_THE_FILE) + 1) + 1
    end = page.index("\n\n", start) + 1
    return page[:start], page[start:end], page[end:]


def _row(one: Field) -> str:
    return f"| `{one.name}` | | {_holds(one)} | {one.blank or 'not known'} |\n"


def _series_row(name: str) -> str:
    one = series.SERIES[name]
    title, unit = f"{one.title[:1].lower()}{one.title[1:]}", one.unit or "the unit"
    holds = f"{title}: pairs `step:value`, the step in {one.step_unit}, rising"
    return f"| `{name}` | | {holds}, the value in {unit}; {_tests(name)} | none |\n"


def _holds(one: Field) -> str:
    words = [f"`{choice}`" for choice in CHOICES.get(one.name, ())]
    allowed = " or ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
    if one.kind is Kind.NUMBER:
        allowed = one.allowed
    label = f"{one.label[:1].lower()}{one.label[1:]}"
    said = f"{label}: {allowed}" if allowed else label
    return "; ".join(filter(None, (said, one.about or _tests(one.name))))


def _tests(name: str) -> str:
    """Return for which tests a column counts."""
    using = [
        f"`{procedure.name}`"
        for procedure in PROCEDURES.values()
        if name in procedure.rests_on
        or name in procedure.columns
        or any(name == ask["name"] for ask in procedure.asks)
        or any(name == one.name for one in procedure.series)
    ]
    return f"for {', '.join(using)}" if using else ""


if __name__ == "__main__":
    before, _, after = parts_of(PAGE.read_text("utf-8"))
    PAGE.write_text(before + table_rows() + after, "utf-8")
