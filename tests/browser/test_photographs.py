"""A photograph taken without signal: drawn on, kept, then on record."""

import io
import json
from uuid import UUID

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.schema import Attachment
from tests.browser.conftest import Served
from tests.browser.crew import (
    LEAST_TARGET,
    TABLET_UPRIGHT,
    check_page,
    check_themes,
    hold_program,
    open_page,
)
from tests.browser.test_field import open_card
from tests.scenario import IR, TECHNICIAN

pytestmark = pytest.mark.browser

BOXES = """() => [...document.querySelectorAll(
    '.photo-dialog button, .photo-dialog input:not([type=radio]), '
    + '.photo-dialog select, .photo-dialog .choice, '
    + '.photos .button, .photos .photo-link')]
  .map((one) => [one.textContent || one.id, one.getBoundingClientRect().height])"""
GPS = 0x8825


def camera_picture() -> bytes:
    """Return a grey JPEG of 3000 x 2000 with a place, lying on its side."""
    exif = Image.Exif()
    exif[0x0112] = 6  # turn it by a quarter to the right
    exif[GPS] = {1: "N", 2: (47.0, 22.0, 30.0), 3: "E", 4: (8.0, 32.0, 0.0)}
    target = io.BytesIO()
    Image.new("RGB", (3000, 2000), (90, 90, 90)).save(target, "JPEG", exif=exif)
    assert Image.open(target).getexif().get_ifd(GPS)
    return target.getvalue()


def choose(page: Page, name: str, content: bytes, kind: str = "image/jpeg") -> None:
    page.get_by_label("Choose a picture").set_input_files(
        {"name": name, "mimeType": kind, "buffer": content}
    )


def check_targets(page: Page) -> None:
    small = [one for one in page.evaluate(BOXES) if one[1] < LEAST_TARGET]
    assert not small


def draw(page: Page) -> None:
    """Draw one arrow by pointer, one by keys, a line of text; undo one arrow more."""
    board = page.locator(".photo-board")
    box = board.bounding_box()
    assert box
    for tip in (0.5, 0.8):
        page.mouse.move(box["x"] + 0.2 * box["width"], box["y"] + 0.2 * box["height"])
        page.mouse.down()
        page.mouse.move(
            box["x"] + tip * box["width"], box["y"] + tip * box["height"], steps=3
        )
        page.mouse.up()
    page.get_by_role("button", name="Undo").click()
    board.focus()
    for key in ("Enter", *["ArrowRight"] * 10, "Enter"):
        page.keyboard.press(key)
    page.get_by_label("Line of text for the picture").fill("burn mark")
    page.get_by_label("Text", exact=True).check()
    box = board.bounding_box()
    assert box
    page.mouse.click(box["x"] + 0.1 * box["width"], box["y"] + 0.9 * box["height"])


def test_a_photograph_without_signal_is_drawn_on_and_arrives(
    browser: Browser, served: Served
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    context.set_offline(True)
    panel = page.get_by_role("region", name="Photographs and files")
    for name, kind, words in (
        ("plan.txt", "text/plain", "is no picture that this browser can open"),
        ("IMG_7.HEIC", "image/heic", "set the camera to JPEG"),
    ):
        choose(page, name, b"no picture", kind)
        expect(panel.get_by_role("alert")).to_contain_text(words)
    choose(page, "IMG_1.JPG", camera_picture())
    expect(page.get_by_role("dialog")).to_be_visible()
    check_page(page)
    check_themes(page)
    check_targets(page)
    # The power fails while it is open: it is there, and is not sent before it is said.
    page.reload()
    expect(panel).to_contain_text("not finished: not sent yet")
    panel.get_by_role("button", name="Finish it").click()
    draw(page)
    page.get_by_label("What it shows").fill("Left side")
    page.get_by_label("About").select_option(label="A-G")
    page.get_by_role("button", name="Keep photograph").click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(panel).to_contain_text("kept on this tablet")
    signal = page.locator("#signal")
    expect(signal).to_contain_text("1 photograph kept on this tablet")
    page.reload()
    expect(panel).to_contain_text("Left side")
    panel.get_by_role("button", name="Remove", exact=True).click()
    panel.get_by_role("button", name="Keep it").click()
    check_targets(page)
    check_page(page)
    context.set_offline(False)
    expect(panel).to_contain_text("on the record", timeout=20_000)
    expect(panel).not_to_contain_text("kept on this tablet")
    expect(signal).to_contain_text("Everything is recorded")
    with served.session() as session:
        found = session.scalars(
            select(Attachment).where(Attachment.subject_id == card_id)
        ).one()
        assert (found.by_id, found.name) == (TECHNICIAN.id, "IMG_1.jpg")
        assert found.note.startswith("Left side · A-G · taken 20")
        assert found.note.endswith("drawn on it: 2 arrows, “burn mark”")
        photo_id: UUID = found.id
    picture = Image.open(io.BytesIO(context.request.get(f"/files/{photo_id}").body()))
    assert picture.size == (1365, 2048)  # upright, as the camera was held
    assert not picture.getexif()
    colours = picture.convert("RGB")
    assert _is_red(colours, 0.35, 0.35) and not _is_red(colours, 0.7, 0.7)
    assert _is_red(colours, 0.6, 0.5)
    page.reload()
    expect(panel.get_by_role("link", name="IMG_1.jpg")).to_be_visible()
    left = page.evaluate(
        "() => import('/static/field/kept/database.js')"
        ".then(({ getAll }) => getAll('photos')).then(JSON.stringify)"
    )
    assert json.loads(left) == []
    context.close()


def _is_red(picture: Image.Image, x: float, y: float) -> bool:
    """Return whether something red is drawn within 1 % of a place."""
    width, height = picture.size
    box = tuple(
        int(one)
        for one in (
            (x - 0.01) * width,
            (y - 0.01) * height,
            (x + 0.01) * width,
            (y + 0.01) * height,
        )
    )
    near = picture.crop(box).tobytes()  # type: ignore[arg-type]
    pixels = zip(near[::3], near[1::3], strict=True)
    return any(red > 170 and green < 60 for red, green in pixels)
