"""Sheets: what is put down flows from page to page.

Pages are laid out first, as shapes, and painted afterwards: only then is it
known how many there are. y counts downwards from the upper edge of the paper.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from webapp.drawing.marks import verdict_mark
from webapp.drawing.shapes import Drawing, Item, Line, Rect, Text
from webapp.pdf.faces import font_of, leading_of, size_of
from webapp.pdf.fonts import wrapped

PAPER_WIDTH, PAPER_HEIGHT = 595.276, 841.89  # A4, points
# Frame: 20 mm at the filing edge, 10 mm elsewhere (ISO 5457).
FRAME_LEFT, FRAME_OTHER = 56.693, 28.346
FRAME_RIGHT = PAPER_WIDTH - FRAME_OTHER
FRAME_TOP, FRAME_BOTTOM = FRAME_OTHER, PAPER_HEIGHT - FRAME_OTHER
BLOCK_HEIGHT, RECORD_HEIGHT = 42.0, 13.0
INSET = 12.0
LEFT, RIGHT = FRAME_LEFT + INSET, FRAME_RIGHT - INSET
WIDTH = RIGHT - LEFT
TOP = FRAME_TOP + 18.0
BOTTOM = FRAME_BOTTOM - BLOCK_HEIGHT - RECORD_HEIGHT - 10.0


@dataclass(frozen=True, slots=True)
class Placed:
    """A JPEG by its upper left corner, and its size on the page."""

    jpeg: bytes
    x: float
    y: float
    width: float
    height: float


@dataclass(slots=True)
class Page:
    """One page: its sheet's title, its shapes and the drawings placed on it."""

    title: str
    items: list[Item] = field(default_factory=list)
    placed: list[tuple[Drawing, float, float, float]] = field(default_factory=list)
    marks: list[tuple[str, int]] = field(default_factory=list)  # (words, level)
    pictures: list[Placed] = field(default_factory=list)


class Sheets:
    """The pages so far, and the place where the next thing goes."""

    def __init__(self) -> None:
        """Start without a page: `begin` opens the first."""
        self.pages: list[Page] = []
        self.y = TOP
        self._again: list[Callable[[], None]] = []

    @property
    def page(self) -> Page:
        """The page that is being filled."""
        return self.pages[-1]

    def begin(self, title: str, *, mark: bool = True) -> None:
        """Open a sheet on a fresh page."""
        self.pages.append(Page(title))
        self.y = TOP
        if mark:
            self.mark(title, 0)

    def mark(self, words: str, level: int) -> None:
        """Put this place into the file's outline."""
        self.page.marks.append((words, level))

    def need(self, height: float) -> None:
        """Go on to a fresh page unless *height* is free on this one."""
        if self.y + height > BOTTOM:
            self.turn()

    def turn(self) -> None:
        """Go on to a fresh page of the same sheet, what repeats first."""
        self.pages.append(Page(self.page.title))
        self.y = TOP
        for again in self._again:
            again()

    @contextmanager
    def repeating(self, again: Callable[[], None]) -> Iterator[None]:
        """Have *again* put down at the top of every page that follows."""
        self._again.append(again)
        try:
            yield
        finally:
            self._again.remove(again)

    def put(self, *items: Item) -> None:
        """Add shapes to the page, where they say."""
        self.page.items.extend(items)

    def place(self, drawing: Drawing, x: float, y: float, times: float = 1.0) -> None:
        """Add a drawing with its upper left corner at (x, y)."""
        self.page.placed.append((drawing, x, y, times))

    def picture(
        self, jpeg: bytes, x: float, y: float, width: float, height: float
    ) -> None:
        """Add a picture with its upper left corner at (x, y)."""
        self.page.pictures.append(Placed(jpeg, x, y, width, height))

    def line(
        self, style: str = "hairline", x1: float = LEFT, x2: float = RIGHT
    ) -> None:
        """Draw a rule across, here."""
        self.put(Line(x1, self.y, x2, self.y, style))

    def gap(self, height: float) -> None:
        """Leave room; at the top of a page none is needed."""
        if self.y > TOP:
            self.y += height

    def text(
        self, text: str, style: str = "body", x: float = LEFT, width: float = 0.0
    ) -> None:
        """Put down a paragraph, wrapped, over as many pages as it takes."""
        room = width or RIGHT - x
        leading = leading_of(style)
        for row in wrapped(text, font_of(style), size_of(style), round(room, 2)):
            self.need(leading)
            self.y += leading
            self.put(Text(x, self.y - leading * 0.26, row, style))

    def heading(self, text: str, style: str = "heading", keep: float = 40.0) -> None:
        """Put down a heading together with *keep* points of what follows it."""
        self.gap(10)
        self.need(leading_of(style) + keep)
        self.text(text, style)
        self.y += 3

    def said(self, verdict: str, x: float, y: float, words: str = "") -> None:
        """Put down a verdict as shape and word, on the base line *y*."""
        self.put(
            *verdict_mark(verdict, x + 4, y - 3, 3.8),
            Text(x + 12, y, words or verdict, f"{verdict}-said"),
        )

    def bar(self, style: str, x: float, top: float, bottom: float) -> None:
        """Draw the upright bar left of what belongs to a verdict."""
        self.put(Rect(x, top, 2.4, bottom - top, style))


def lines_of(text: str, style: str, width: float) -> tuple[str, ...]:
    """Return *text* as it will be wrapped in *style*."""
    return wrapped(text, font_of(style), size_of(style), round(width, 2))
