"""A long lineup goes on in another row."""

import pytest

from webapp.elevation_rows import LONGEST_ROW, elevation_rows

COUNTS = {
    "none": (0, 0),
    "one": (1, 1),
    "a full row": (LONGEST_ROW, 1),
    "one more": (LONGEST_ROW + 1, 2),
    "forty": (40, 6),
}


def cells(count: int) -> list[dict[str, str]]:
    return [
        {"number": str(n), "name": f"Feeder {n}", "kind": "breaker", "bus": "bus A"}
        for n in range(1, count + 1)
    ]


@pytest.mark.parametrize(("count", "rows"), COUNTS.values(), ids=COUNTS)
def test_every_cell_is_drawn_once(count: int, rows: int) -> None:
    hrefs = [f"/cell/{n}" for n in range(1, count + 1)]
    drawings = elevation_rows(cells(count), hrefs=hrefs, title="Front elevation")
    assert len(drawings) == rows
    drawn = "".join(drawings)
    assert [drawn.count(f'href="{href}"') for href in hrefs] == [1] * count


def test_the_chosen_cell_is_marked_in_its_row_alone() -> None:
    drawings = elevation_rows(
        cells(25), hrefs=[""] * 25, chosen=13, title="Front elevation"
    )
    assert ["d-cell-chosen" in drawing for drawing in drawings] == [
        False,
        True,
        False,
        False,
    ]
