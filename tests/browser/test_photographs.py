"""A photograph taken without signal: drawn on, kept, then on record."""

import base64
import io
import json
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect
from sqlalchemy import select

from models.files.plain_jpeg import plain_jpeg
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


def refuse_what_is_none(page: Page, panel: Locator, tmp_path: Path) -> None:
    """Choose what is no picture, one that no browser opens, one above 50 MB."""
    for name, kind, words in (
        ("plan.txt", "text/plain", "is no picture that this browser can open"),
        ("IMG_7.HEIC", "image/heic", "set the camera to JPEG"),
    ):
        choose(page, name, b"no picture", kind)
        expect(panel.get_by_role("alert")).to_contain_text(words)
    large = tmp_path / "large.jpg"
    with large.open("wb") as file:
        file.truncate(50_000_001)
    page.get_by_label("Choose a picture").set_input_files(large)
    expect(panel.get_by_role("alert")).to_contain_text("at most 50 MB")
    expect(panel).to_contain_text("None on this card")


def keep_no_original_without_room(page: Page, panel: Locator) -> None:
    page.evaluate("navigator.storage.estimate = async () => ({ usage: 0, quota: 4e8 })")
    choose(page, "IMG_0.JPG", camera_picture())
    expect(page.get_by_text("no room on this tablet for the original")).to_be_visible()
    page.get_by_role("button", name="Not yet").click()
    panel.get_by_role("button", name="Remove", exact=True).click()
    panel.get_by_role("button", name="Remove it for good").click()
    expect(panel).to_contain_text("None on this card")
    page.evaluate("delete navigator.storage.estimate")


def check_on_record(context: BrowserContext, served: Served, card_id: UUID) -> None:
    """The scaled picture and its original are the card's, and say what they are."""
    with served.session() as session:
        asked = select(Attachment).where(Attachment.subject_id == card_id)
        found, original = session.scalars(asked.order_by(Attachment.at)).all()
    assert original.name == "IMG_1 original.jpg"
    assert original.note.startswith("original of IMG_1.jpg · taken 20")
    assert (found.by_id, found.name) == (TECHNICIAN.id, "IMG_1.jpg")
    assert found.note.startswith("Left side · A-G · taken 20")
    assert found.note.endswith(
        " · at 47.37500° N, 8.53333° E · drawn on it: 2 arrows, “burn mark”"
    )
    picture, whole = (
        Image.open(io.BytesIO(context.request.get(f"/files/{one.id}").body()))
        for one in (found, original)
    )
    assert picture.size == (1365, 2048)  # upright, as the camera was held
    assert not picture.getexif()
    assert whole.size == (3000, 2000)
    assert dict(whole.getexif()) == {0x0112: 6}  # which side is up, and nothing else
    colours = picture.convert("RGB")
    assert _is_red(colours, 0.35, 0.35) and not _is_red(colours, 0.7, 0.7)
    assert _is_red(colours, 0.6, 0.5)


def test_a_photograph_without_signal_is_drawn_on_and_arrives(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    card_id = open_card(page, served, "breaker 52", IR)
    hold_program(page)
    check_camera_files(page)
    context.set_offline(True)
    panel = page.get_by_role("region", name="Photographs and files")
    refuse_what_is_none(page, panel, tmp_path)
    keep_no_original_without_room(page, panel)
    choose(page, "IMG_1.JPG", camera_picture())
    expect(page.get_by_role("dialog")).to_be_visible()
    expect(page.get_by_text("47.37500° N, 8.53333° E")).to_be_visible()
    assert not page.get_by_label("Record where it was taken").is_checked()
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
    page.get_by_label("Record where it was taken").check()
    page.get_by_role("button", name="Keep photograph").click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(panel).to_contain_text("kept on this tablet")
    signal = page.locator("#signal")
    expect(signal).to_contain_text("1 photograph, 1 original kept on this tablet")
    page.reload()
    expect(panel).to_contain_text("Left side")
    panel.get_by_role("button", name="Remove", exact=True).click()
    panel.get_by_role("button", name="Keep it").click()
    check_targets(page)
    check_page(page)
    context.set_offline(False)
    expect(panel).to_contain_text("on the record")
    expect(panel).not_to_contain_text("kept on this tablet")
    expect(signal).to_contain_text("Everything is recorded")
    check_on_record(context, served, card_id)
    page.reload()
    expect(panel.get_by_role("link", name="IMG_1.jpg", exact=True)).to_be_visible()
    left = page.evaluate(
        "() => import('/static/field/kept/database.js')"
        ".then(({ getAll }) => getAll('photos')).then(JSON.stringify)"
    )
    assert json.loads(left) == []
    context.close()


READ = """async (all) => {
  const { readCameraFile } = await import('/static/field/photos/camera_file.js');
  const bytes = (text) => Uint8Array.from(atob(text), (one) => one.charCodeAt(0));
  const text = async (blob) => btoa(Array.from(new Uint8Array(await blob.arrayBuffer()),
    (one) => String.fromCharCode(one)).join(''));
  return Promise.all(all.map(async (one) => {
    const read = readCameraFile(bytes(one).buffer);
    return read && { place: read.place, plain: await text(read.plain) };
  }));
}"""


def check_camera_files(page: Page) -> None:
    """Read places of both byte orders and all corners; leave out the rest of it.

    What is left is what the server leaves of it, byte for byte.
    """
    places: list[tuple[Any, Any]] = [
        (("N", (47.0, 22.0, 30.0), "E", (8.0, 32.0, 0.0)), ("47.37500", "8.53333")),
        (("S", (33.5, 0.0, 0.0), "W", (70.0, 40.0, 12.0)), ("-33.50000", "-70.67000")),
        (("N", (91.0, 0.0, 0.0), "E", (8.0, 0.0, 0.0)), None),
        (None, None),
    ]
    files = [
        (with_place(told, order), said) for told, said in places for order in ("<", ">")
    ]
    told = [base64.b64encode(content).decode() for content, _ in files]
    cut = base64.b64encode(files[0][0][:-300]).decode()
    found = page.evaluate(READ, [*told, cut])
    assert found.pop() is None
    for one, (content, said) in zip(found, files, strict=True):
        place = one["place"]
        assert (place and (place["latitude"], place["longitude"])) == said
        assert base64.b64decode(one["plain"]) == plain_jpeg(content)


def with_place(told: Any, order: str) -> bytes:
    """Return a small JPEG turned by a quarter, with a place (or none) and a maker."""
    exif = Image.Exif()
    exif.endian = order
    exif[0x0112] = 6
    exif[0x010F] = "a maker"
    if told:
        exif[GPS] = dict(enumerate(told, start=1))
    target = io.BytesIO()
    picture = Image.linear_gradient("L")
    picture.save(target, "JPEG", exif=exif, comment=b"x", progressive=order == "<")
    return target.getvalue()


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
