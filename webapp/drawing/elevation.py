"""A lineup's front elevation, drawn from its cells."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from webapp.drawing.fit import shortened, wrap
from webapp.drawing.marks import verdict_mark
from webapp.drawing.shapes import (
    Drawing,
    Group,
    Item,
    Line,
    Polyline,
    Rect,
    Text,
    moved,
)
from webapp.drawing.symbols import BOX, KIND_WORDS, symbol

CELL_WIDTH = 116.0
SIDE = 26.0  # floor beyond the lineup on either side
TOP = 34.0  # room for the bus dimensions
PAD = 7.0  # from a cell's edge to its plates
NAME_LINES = 3
LABEL_HEIGHT, SYMBOL_HEIGHT = 68.0, 108.0
PLATE_HEAD, FINDING_HEIGHT, PLATE_PAD = 34.0, 17.0, 4.0
HATCH = 11.0
CAPTION_ROWS, CAPTION_ROW = 4, 15.0
NOT_TO_SCALE = "front view, not to scale"

Cell = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """What a cell's plate says: words, the share done, findings (verdict, count)."""

    text: str
    share: float
    findings: Sequence[tuple[str, int]] = ()


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where things are; *top* is the cells' upper edge."""

    cell_width: float
    plate_height: float
    count: int
    caption: str

    @property
    def caption_rows(self) -> list[str]:
        return wrap(self.caption, self.right - self.left, "label", CAPTION_ROWS)

    @property
    def left(self) -> float:
        return SIDE

    @property
    def right(self) -> float:
        return SIDE + self.count * self.cell_width

    @property
    def floor(self) -> float:
        plates = self.plate_height + PAD if self.plate_height else 0.0
        return TOP + PAD + LABEL_HEIGHT + PAD + SYMBOL_HEIGHT + PAD + plates

    @property
    def width(self) -> float:
        return self.right + SIDE

    @property
    def height(self) -> float:
        return self.floor + 25.0 + CAPTION_ROW * max(1, len(self.caption_rows))


def elevation(
    cells: Sequence[Cell],
    *,
    plates: Sequence[Plate | None] = (),
    hrefs: Sequence[str] = (),
    chosen: int | None = None,
    ratings: str = "",
    gear: str = "",
    cell_width: float = CELL_WIDTH,
    title: str = "Front elevation",
    cut_left: bool = False,
    cut_right: bool = False,
) -> Drawing:
    """Return the elevation of *cells* (number, name, kind, bus), left to right.

    *plates*, *hrefs* and *chosen* (the heavy frame) go with the cells by
    position; *cut_left* and *cut_right* say that the lineup goes on there.
    """
    count = len(cells)
    caption = " · ".join(filter(None, (ratings, "" if cut_right else NOT_TO_SCALE)))
    layout = _Layout(cell_width, _plate_height(plates), count, caption)
    plated = [*plates, *[None] * (count - len(plates))]
    linked = [*hrefs, *[""] * (count - len(hrefs))]
    drawn = [
        _cell(layout, at, cells[at], plated[at], linked[at], gear, chosen=at == chosen)
        for at in sorted(range(count), key=lambda at: at == chosen)
    ]
    return Drawing(
        width=layout.width,
        height=layout.height,
        kind="elevation",
        title=title,
        description=_describe(cells, plated),
        items=[
            *_floor(layout),
            *_buses(layout, cells),
            *drawn,
            *_cuts(layout, cut_left=cut_left, cut_right=cut_right),
            *_caption(layout),
        ],
    )


def _caption(layout: _Layout) -> list[Item]:
    """Return the ratings under the floor, in as many rows as they need."""
    return [
        Text(layout.left, layout.floor + 30 + CAPTION_ROW * n, row, "label")
        for n, row in enumerate(layout.caption_rows)
    ]


def _plate_height(plates: Sequence[Plate | None]) -> float:
    if not any(plates):
        return 0.0
    most = max(len(plate.findings) for plate in plates if plate)
    return PLATE_HEAD + FINDING_HEIGHT * max(1, most)


def _floor(layout: _Layout) -> list[Item]:
    y, end = layout.floor, layout.right + SIDE
    count = int(end / HATCH)
    hatch = [
        Line(n * HATCH + 8, y + 1.5, n * HATCH + 1, y + 9.5, "hatch")
        for n in range(count)
    ]
    return [*hatch, Line(2, y, end - 2, y, "floor")]


def _cuts(layout: _Layout, *, cut_left: bool, cut_right: bool) -> list[Item]:
    """Return the break lines where the lineup goes on."""
    return [
        Polyline(
            (
                (x, TOP - 6),
                (x, TOP + 92),
                (x - 5, TOP + 97),
                (x + 5, TOP + 105),
                (x, TOP + 110),
                (x, layout.floor + 6),
            ),
            "break",
        )
        for x, cut in ((layout.left - 9, cut_left), (layout.right + 9, cut_right))
        if cut
    ]


def _buses(layout: _Layout, cells: Sequence[Cell]) -> list[Item]:
    """Return a dimension line over each run of cells on one bus."""
    items: list[Item] = []
    y, at = TOP - 12, 0
    for bus, run in groupby(cells, key=lambda cell: cell["bus"]):
        first, at = at, at + len(list(run))
        if not bus:
            continue
        x1 = layout.left + first * layout.cell_width
        x2 = layout.left + at * layout.cell_width
        words = shortened(bus, x2 - x1 - 4, "label")
        items += [
            Line(x1, y, x2, y, "dimension"),
            *(Line(x, y - 5, x, y + 5, "dimension") for x in (x1, x2)),
            Text((x1 + x2) / 2, y - 6, words, "label", "middle"),
        ]
    return items


def _cell(
    layout: _Layout,
    at: int,
    cell: Cell,
    plate: Plate | None,
    href: str,
    gear: str,
    *,
    chosen: bool,
) -> Group:
    x, width = layout.left + at * layout.cell_width, layout.cell_width
    inner = width - 2 * PAD
    label_y = TOP + PAD
    symbol_y = label_y + LABEL_HEIGHT + PAD
    items: list[Item] = [
        Rect(
            x,
            TOP,
            width,
            layout.floor - TOP,
            "cell-chosen" if chosen else "cell",
        ),
        Rect(x + PAD, label_y, inner, LABEL_HEIGHT, "plate"),
        *_label(x + width / 2, label_y, inner - 6, cell),
        Rect(x + PAD, symbol_y, inner, SYMBOL_HEIGHT, "plate"),
        *(
            moved(stroke, x + (width - BOX[0]) / 2, symbol_y + 9)
            for stroke in symbol(cell["kind"], gear)
        ),
    ]
    if layout.plate_height:
        y = symbol_y + SYMBOL_HEIGHT + PAD
        items.append(Rect(x + PAD, y, inner, layout.plate_height, "plate"))
        if plate:
            items += _plate(x + PAD + PLATE_PAD, y, inner - 2 * PLATE_PAD, plate)
    return Group(tuple(items), title=_cell_words(cell, plate), href=href)


def _label(x: float, y: float, width: float, cell: Cell) -> list[Item]:
    rows = wrap(cell["name"], width, "name", NAME_LINES)
    number = shortened(cell["number"], width, "number")
    return [
        Text(x, y + 17, number, "number", "middle"),
        *(
            Text(x, y + 33 + 14 * n, row, "name", "middle")
            for n, row in enumerate(rows)
        ),
    ]


def _plate(x: float, y: float, width: float, plate: Plate) -> list[Item]:
    share = min(max(plate.share, 0.0), 1.0)
    words = _plate_words(plate.text, width)
    items: list[Item] = [
        Text(x, y + 15, words, "label-strong"),
        Rect(x, y + 21, width, 8, "track"),
    ]
    if share:
        style = "bar-done" if share == 1.0 else "bar"
        items.append(Rect(x, y + 21, width * share, 8, style))
    for n, (verdict, count) in enumerate(plate.findings):
        line_y = y + PLATE_HEAD + FINDING_HEIGHT * n + 11
        items += verdict_mark(verdict, x + 5, line_y - 4, 4.6)
        items.append(Text(x + 15, line_y, f"{count} {verdict}", f"{verdict}-word"))
    return items


def _plate_words(text: str, width: float) -> str:
    """Return the plate's words, shorter where there is no room: 1/3 signed, 1/3."""
    short = text.replace(" of ", "/")
    for words in (text, short, short.removesuffix(" signed")):
        shown = shortened(words, width, "label-strong")
        if shown == words:
            break
    return shown


def _cell_words(cell: Cell, plate: Plate | None) -> str:
    """Return what the cell is, in the order in which it is drawn; its kind last."""
    kind = KIND_WORDS.get(cell["kind"], cell["kind"].replace("_", " "))
    words = f"Cell {cell['number']}, {cell['name']}"
    if plate is None:
        return f"{words}, {kind}"
    found = "".join(f", {count} {verdict}" for verdict, count in plate.findings)
    return f"{words}: {plate.text}{found}; {kind}"


def _describe(cells: Sequence[Cell], plates: Sequence[Plate | None]) -> str:
    """Return the drawing in words, cell by cell."""
    said = [_cell_words(c, p) for c, p in zip(cells, plates, strict=True)]
    return f"{len(cells)} cells side by side, from the left. {'. '.join(said)}."
