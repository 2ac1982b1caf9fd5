"""List every table with its document and provenance, and every doubted figure."""

import sys
from collections.abc import Iterator

from models.criteria.library import tables
from models.criteria.views import TableView
from models.judging.rules import PROVENANCES

HEAD = ("| file | what | document | figures |", "|---|---|---|---|")


def lines() -> Iterator[str]:
    """Yield the lines of two lists in Markdown: the tables, and what is doubted."""
    ordered = sorted(tables(), key=lambda one: one.key)
    yield from HEAD
    for table in ordered:
        yield _table_line(table)
    yield ""
    for table in ordered:
        yield from _doubt_lines(table)


def _table_line(table: TableView) -> str:
    usual = "" if table.default else " (not the default)"
    counts = ", ".join(
        f"{table.counts[word]} {word}" for word in PROVENANCES if word in table.counts
    )
    doubts = len(table.doubts())
    doubted = f"; {doubts} doubtful" if doubts else ""
    return (
        f"| `{table.key}.toml` | {table.title}{usual} | {table.cited_as()} "
        f"| {counts}{doubted} |"
    )


def _doubt_lines(table: TableView) -> Iterator[str]:
    """Yield a line a row and doubt, its figures together."""
    said: dict[tuple[str, str], list[str]] = {}
    for figure in table.doubts():
        words = f"{figure.column} {figure.said}".strip()
        said.setdefault((figure.row, figure.doubtful), []).append(words)
    for (row, why), figures in said.items():
        yield f"- `{table.key}`, {row}: {'; '.join(figures)}. Why: {why}."


def main() -> None:
    """Print both lists."""
    for line in lines():
        sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
