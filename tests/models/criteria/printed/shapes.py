"""How a page is written a second time: its columns, then its rows by hand."""

from collections.abc import Mapping, Sequence

P, M, C, X = "published", "memory", "practice", "computed"

Rows = Sequence[tuple[object, ...]]
# key -> names of the columns, and of what else stands in a row, then the rows
Printed = Mapping[str, tuple[str, Rows]]


def each(provenance: str, *rows: tuple[object, ...]) -> list[tuple[object, ...]]:
    """Return *rows*, each with the provenance that all of them share at the end."""
    return [(*row, provenance) for row in rows]
