"""A front elevation for a page: a long lineup goes on in another row."""

from collections.abc import Mapping, Sequence

from markupsafe import Markup

from webapp.drawing import Plate, elevation, svg

LONGEST_ROW = 7  # cells side by side
ROW_WIDTH = 896.0  # of the cells in a row that fits a small screen held across
ROOM_FOR_RATINGS = 3  # cells; under fewer the line would be cut
NARROWEST, WIDEST = 104.0, 150.0


def elevation_rows(
    cells: Sequence[Mapping[str, str]],
    *,
    hrefs: Sequence[str],
    plates: Sequence[Plate] = (),
    chosen: int | None = None,
    ratings: str = "",
    gear: str = "",
    title: str,
) -> list[Markup]:
    """Return the elevation of *cells*, a drawing a row, none for a bare lineup.

    *plates*, *hrefs* and *chosen* go with the cells by position.
    """
    rows = -(-len(cells) // LONGEST_ROW)
    drawings = []
    for n in range(rows):
        per_row = -(-len(cells) // rows)
        part = slice(n * per_row, (n + 1) * per_row)
        at = None if chosen is None else chosen - n * per_row
        drawing = elevation(
            cells[part],
            plates=plates[part],
            hrefs=hrefs[part],
            chosen=at if at is not None and 0 <= at < per_row else None,
            ratings=ratings if n == rows - 1 and len(cells) >= ROOM_FOR_RATINGS else "",
            gear=gear,
            cell_width=min(max(ROW_WIDTH / len(cells[part]), NARROWEST), WIDEST),
            title=title if rows == 1 else f"{title}, part {n + 1} of {rows}",
            cut_left=n > 0,
            cut_right=n < rows - 1,
        )
        drawings.append(Markup(svg(drawing)))  # noqa: S704 (escaped there)
    return drawings
