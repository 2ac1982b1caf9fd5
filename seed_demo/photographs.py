"""Two photographs as a technician's tablet sends them; drawn here and invented."""

import math
from collections.abc import Callable
from datetime import datetime, timedelta
from hashlib import sha256, shake_256
from io import BytesIO
from typing import Any
from uuid import UUID, uuid4

from PIL import Image, ImageChops, ImageDraw, ImageFilter
from sqlalchemy.orm import Session

from models.files.receive import receive
from models.files.store import FileStore
from models.schema import Card
from models.services.field.photographs import attach_photograph
from models.services.field.read_photograph import Photograph
from models.services.keeping.attachments import USUAL
from seed_demo.people import TECHNICIAN

MINUTE = timedelta(minutes=1)
SIZE = WIDTH, HEIGHT = 1280, 960
WALL, STEEL, COPPER, DARK, RED = "#8b8f8d", "#5d6164", "#b3713a", "#2a2523", "#7d2a22"
MARK, EDGE = "#d4001a", "#ffffff"  # as the tablet draws (`photos/marks.js`)

Draw = ImageDraw.ImageDraw
Mark = dict[str, Any]
Place = tuple[float, float]  # pixels


def attach_photographs(
    session: Session,
    store: FileStore,
    *,
    switch: Card,
    bus: Card,
    deficiency_id: UUID,
    at: datetime,
) -> None:
    """Attach the blade that the deficiency is about, then a joint of the bus."""
    short: list[Mark] = [
        {"kind": "arrow", "from": [590, 130], "to": [708, 290]},
        {"kind": "text", "at": [360, 105], "text": "C: 8 mm short"},
    ]
    _attach(
        session,
        store,
        picture=photograph(_blades, short),
        card=switch,
        point=2,
        deficiency_id=deficiency_id,
        name="89-1 blade C.jpg",
        note="Closed by hand; C stops before its jaw",
        marks=short,
        at=at + MINUTE,
    )
    _attach(
        session,
        store,
        picture=photograph(_joint, []),
        card=bus,
        point=2,
        name="bus joint C.jpg",
        note="Where the leads were set",
        marks=[],
        at=at + 2 * MINUTE,
    )


def _attach(
    session: Session,
    store: FileStore,
    *,
    picture: bytes,
    card: Card,
    point: int,
    name: str,
    note: str,
    marks: list[Mark],
    at: datetime,
    deficiency_id: UUID | None = None,
) -> None:
    """Put a photograph of a card's point on record, as one that a tablet sent."""
    told = Photograph(
        id=uuid4(),
        card_id=card.id,
        point_id=card.points[point].id,
        deficiency_id=deficiency_id,
        taken_at=at,
        size=len(picture),
        digest=sha256(picture).hexdigest(),
        name=name,
        note=note,
        marks=marks,
    )
    received = receive(store, source=BytesIO(picture), name=name, limits=USUAL)
    attach_photograph(
        session,
        person_id=TECHNICIAN.id,
        round_id=card.round_id,
        photograph=told,
        received=received,
        limits=USUAL,
        now=at,
    )


def photograph(subject: Callable[[Draw], None], marks: list[Mark]) -> bytes:
    """Return a JPEG of a subject in the light of a hand lamp, with marks drawn on."""
    picture = Image.new("RGB", SIZE, WALL)
    subject(ImageDraw.Draw(picture))
    picture = picture.filter(ImageFilter.GaussianBlur(2))
    picture = ImageChops.multiply(picture, _lamp())
    picture = ImageChops.overlay(picture, _grain())
    draw = ImageDraw.Draw(picture)
    for mark in marks:
        _draw_mark(draw, mark)
    file = BytesIO()
    picture.save(file, "jpeg", quality=80)
    return file.getvalue()


def _lamp() -> Image.Image:
    """Return light that falls off towards the corners."""
    dark = Image.radial_gradient("L").resize(SIZE)
    return dark.point([255 - int(at * 0.4) for at in range(256)]).convert("RGB")


def _grain() -> Image.Image:
    """Return what a small sensor adds; the same every time."""
    small = WIDTH // 2, HEIGHT // 2
    noise = Image.frombytes("L", small, shake_256(b"grain").digest(small[0] * small[1]))
    soft = noise.point([116 + at // 11 for at in range(256)])
    return soft.resize(SIZE, Image.Resampling.BICUBIC).convert("RGB")


def _draw_mark(draw: Draw, mark: Mark) -> None:
    if mark["kind"] == "arrow":
        _arrow(draw, _pixels(mark["from"]), _pixels(mark["to"]))
        return
    place = _pixels(mark["at"])
    style = {"font_size": 44, "anchor": "lm", "stroke_width": 5, "stroke_fill": EDGE}
    draw.text(place, mark["text"], fill=MARK, **style)


def _arrow(draw: Draw, start: Place, tip: Place) -> None:
    turn = math.atan2(tip[1] - start[1], tip[0] - start[0])
    wings = [
        (tip[0] - 36 * math.cos(turn + by), tip[1] - 36 * math.sin(turn + by))
        for by in (0.5, -0.5)
    ]
    for colour, width in ((EDGE, 14), (MARK, 7)):
        draw.line((start, tip), fill=colour, width=width)
        draw.line((wings[0], tip, wings[1]), fill=colour, width=width, joint="curve")


def _pixels(place: list[int]) -> Place:
    return place[0] * WIDTH / 1000, place[1] * HEIGHT / 1000


def _blades(draw: Draw) -> None:
    """Draw three blades of a switch in their jaws, the right one not fully in."""
    draw.rectangle((0, 0, WIDTH, 150), fill=STEEL)
    draw.rectangle((0, 780, WIDTH, HEIGHT), fill=STEEL)
    for left, depth in ((170, 180), (520, 180), (870, 300)):
        _insulator(draw, left + 60, 20, 170)
        draw.rectangle((left, 170, left + 45, 400), fill=COPPER)
        draw.rectangle((left + 85, 170, left + 130, 400), fill=COPPER)
        draw.rectangle((left + 45, 170, left + 85, 400), fill=DARK)
        draw.rectangle((left + 47, depth, left + 83, 740), fill="#c98a4f")
        draw.line((left + 54, depth, left + 54, 740), fill="#e0b07c", width=6)
        draw.rectangle((left - 10, 660, left + 140, 760), fill="#6e4a2c")
        draw.ellipse((left + 45, 690, left + 85, 730), fill="#9a9c9b", outline=DARK)
        _insulator(draw, left + 60, 760, 930)


def _insulator(draw: Draw, middle: int, top: int, foot: int) -> None:
    """Draw a post of cast resin with its sheds."""
    draw.rectangle((middle - 40, top, middle + 50, foot), fill=RED)
    for y in range(top + 14, foot - 20, 44):
        draw.rounded_rectangle(
            (middle - 64, y, middle + 74, y + 20), 10, fill="#93362b"
        )


def _joint(draw: Draw) -> None:
    """Draw two bars bolted on each other, with a clamp on either side."""
    draw.rectangle((0, 0, WIDTH, 90), fill=STEEL)
    draw.rectangle((0, 380, 820, 600), fill="#a8672f")
    draw.rectangle((0, 380, 820, 396), fill="#d79c63")
    draw.rectangle((470, 350, WIDTH, 570), fill=COPPER)
    draw.rectangle((470, 350, WIDTH, 366), fill="#e0ab74")
    draw.rectangle((470, 570, 820, 584), fill=DARK)
    for x in (560, 720):
        for y in (405, 505):
            draw.ellipse((x - 38, y - 34, x + 38, y + 42), fill=DARK)
            draw.regular_polygon((x, y, 34), 6, fill="#a5a8a7", outline="#6c6f6e")
            draw.ellipse((x - 14, y - 14, x + 14, y + 14), fill="#c4c7c6")
    for x, colour in ((300, "#a01f1a"), (980, "#1d1d1f")):
        draw.line(
            (x, 640, x + 60, 800, x - 40, HEIGHT), fill=colour, width=26, joint="curve"
        )
        draw.polygon(
            [(x - 34, 330), (x + 34, 330), (x + 20, 660), (x - 20, 660)], fill=colour
        )
        draw.rectangle((x - 40, 330, x + 40, 372), fill="#b9bcbb")
