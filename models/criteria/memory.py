"""List every figure that rests on memory: what is still to be looked up."""

import sys
from collections.abc import Iterator

from models.criteria.library import tables
from models.criteria.views import Figure, TableView


def lines() -> Iterator[str]:
    """Yield the list: a table a paragraph, its rows with the figures recalled."""
    total = 0
    for table in sorted(tables(), key=lambda one: one.key):
        recalled = [f for f in table.figures() if f.provenance == "memory"]
        if recalled:
            total += len(recalled)
            yield from _paragraph(table, recalled)
    yield f"{total} figures rest on memory."


def _paragraph(table: TableView, recalled: list[Figure]) -> Iterator[str]:
    yield f"{table.key}: {len(recalled)} of {sum(table.counts.values())}"
    rows: dict[str, list[str]] = {}
    for figure in recalled:
        said = f"{figure.column} {figure.said}".strip() or "the statement itself"
        rows.setdefault(figure.row, []).append(said)
    for row, said_of_row in rows.items():
        yield f"  {row}: {'; '.join(said_of_row)}"


def main() -> None:
    """Print the list."""
    for line in lines():
        sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
