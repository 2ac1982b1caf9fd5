"""Take the pictures of the manual and of README.md from a running demo.

Start `witnessmark demo`, then: `python -m docs.pictures.make http://127.0.0.1:8700`;
names after it take these pictures alone. Needs the test environment, Chromium and
pdftoppm.
Nothing is recorded; the demo only hears that a tablet took a round along.
"""

import argparse
import io
import subprocess
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urljoin

from PIL import Image, ImageDraw, ImageFilter
from playwright.sync_api import Browser, Page, sync_playwright

from docs.pictures.place import open_card
from seed_demo.people import LEAD, OWNER, PASSWORD, TECHNICIAN, DemoPerson
from tests.browser.crew import hold_program
from tests.scenario import PASSWORD as TERN_PASSWORD
from tests.scenario import TECHNICIAN as TERN

HERE = Path(__file__).parent
UPRIGHT, DESK = (768, 1024), (1440, 900)
COLOURS = 128  # of a picture's palette: enough for lines and flat tints
LARGEST = 120_000  # bytes
HALF_DONE = "LB-2"  # the demo's lineup with a reading outside
TURNED_OVER = "SG-1"  # the demo's lineup with a baseline
CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = ("--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage")


def elevation(page: Page) -> Page:
    """Go to the front elevation of the half-done round."""
    page.get_by_role("link", name=f"Work on it {HALF_DONE}").click()
    page.locator(".elevation-frame svg").wait_for()
    return page


def card(page: Page) -> Page:
    """Go to the card with a reading outside, its working open."""
    elevation(page).locator(".elevation-frame a").first.click()
    page.get_by_role("link", name="Contact resistance, switch 89-1").click()
    page.locator(".explained-outside").wait_for()
    page.wait_for_timeout(1000)  # the page has drawn what the server said since
    page.locator(".conditions, [id^=point-]").first.evaluate(
        "one => one.scrollIntoView()"
    )
    return page


def gate(page: Page) -> Page:
    """Go to the gate of the half-done round."""
    page.get_by_role("link", name=HALF_DONE).first.click()
    page.locator("#still").wait_for()
    return page


def trend(page: Page) -> Page:
    """Go to the trend of the pole whose contact resistance keeps rising."""
    page.get_by_role("link", name=TURNED_OVER).first.click()
    page.get_by_role("link", name="contact resistance · pole C").first.click()
    page.locator("main svg").first.wait_for()
    return page


def rounds(page: Page) -> Page:
    """Take the half-done round along, on the list of rounds."""
    page.get_by_role("button", name=f"Take along {HALF_DONE}").click()
    page.get_by_text("1 round was taken along").wait_for()
    return page


def without_signal(page: Page) -> Page:
    """Write a note without signal: it waits, and the elevation says so."""
    card(page)
    hold_program(page)
    page.context.set_offline(True)
    page.get_by_label("Note for the record").fill("Blade C moves late.")
    page.get_by_role("button", name="Add note").click()
    page.goto(f"{page.url.split('#')[0]}#/")
    page.locator("#signal", has_text="No signal").wait_for()
    return page


def this_tablet(page: Page) -> Page:
    """Go to what is on this tablet, a round taken along, without signal."""
    rounds(page)
    hold_program(page)
    page.goto(urljoin(page.url, "/field/tablet"))
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Let it open without signal").click()
    page.get_by_label("Password").wait_for(state="hidden")
    page.get_by_text(HALF_DONE).first.wait_for()
    return page


def photograph(page: Page) -> Page:
    """Draw an arrow and a line of text on a photograph of the card."""
    card(page)
    page.get_by_label("Choose a picture").set_input_files(
        {"name": "contact.jpg", "mimeType": "image/jpeg", "buffer": contact()}
    )
    board = page.locator(".photo-board")
    board.wait_for()
    box = board.bounding_box()
    assert box
    across, down = box["width"], box["height"]
    page.mouse.move(box["x"] + 0.25 * across, box["y"] + 0.25 * down)
    page.mouse.down()
    page.mouse.move(box["x"] + 0.74 * across, box["y"] + 0.6 * down, steps=4)
    page.mouse.up()
    page.get_by_label("Line of text for the picture").fill("blade C not fully in")
    page.get_by_label("Text", exact=True).check()
    page.mouse.click(box["x"] + 0.06 * across, box["y"] + 0.16 * down)
    return page


def keypad(page: Page) -> Page:
    """Type a value with the large keypad on a card that is open."""
    page.get_by_role("button", name="Take over").click()
    page.locator('[data-focus="keypad-choice"]').click()
    field = page.locator('[data-focus^="reading-"]').first
    field.click()
    field.fill("8.4")
    page.locator(".verdict").first.wait_for()
    return page


PICTURES: dict[str, tuple[DemoPerson, tuple[int, int], Callable[[Page], Page]]] = {
    "elevation": (TECHNICIAN, UPRIGHT, elevation),
    "card": (TECHNICIAN, UPRIGHT, card),
    "rounds": (TECHNICIAN, UPRIGHT, rounds),
    "without-signal": (TECHNICIAN, UPRIGHT, without_signal),
    "this-tablet": (TECHNICIAN, UPRIGHT, this_tablet),
    "photograph": (TECHNICIAN, UPRIGHT, photograph),
    "gate": (LEAD, DESK, gate),
    "trend": (OWNER, DESK, trend),
}


def main() -> None:
    """Take every picture, or those that are named."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("address", help="of the running demo")
    parser.add_argument("names", nargs="*", help="pictures; none: all of them")
    parser.add_argument("--chromium", default=CHROMIUM)
    chosen = parser.parse_args()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=chosen.chromium, args=list(ARGUMENTS)
        )
        for name, (person, size, go) in PICTURES.items():
            if not chosen.names or name in chosen.names:
                page = signed_in(browser, chosen.address, person.sign_in, size)
                take(name, go(page))
        if not chosen.names or "labels" in chosen.names:
            page = signed_in(browser, chosen.address, LEAD.sign_in, DESK)
            (HERE / "labels.png").write_bytes(small(labels(page)))
        if not chosen.names or "keypad" in chosen.names:
            with open_card() as address:
                page = signed_in(browser, address, TERN.sign_in, UPRIGHT, TERN_PASSWORD)
                page.goto(address)
                take("keypad", keypad(page))
        browser.close()


def labels(page: Page) -> bytes:
    """Return the head of a lineup's first sheet of labels, as a picture."""
    page.get_by_role("link", name="Gear books").click()
    page.get_by_role("link", name=TURNED_OVER).first.click()
    way = page.get_by_role("link", name="Labels to print").get_attribute("href")
    assert way
    sheet = page.request.get(urljoin(page.url, way)).body()
    drawn = subprocess.run(
        ["pdftoppm", "-png", "-r", "90", "-f", "1", "-l", "1", "-"],  # noqa: S607
        input=sheet,
        capture_output=True,
        check=True,
    ).stdout
    picture = Image.open(io.BytesIO(drawn))
    target = io.BytesIO()
    picture.crop((0, 0, picture.width, picture.height // 2)).save(target, "PNG")
    return target.getvalue()


def take(name: str, page: Page) -> None:
    """Write the picture of a page, and close it."""
    page.mouse.move(0, 0)
    shot = page.screenshot(animations="disabled")
    (HERE / f"{name}.png").write_bytes(small(shot))
    page.context.close()


def signed_in(
    browser: Browser,
    address: str,
    sign_in: str,
    size: tuple[int, int],
    password: str = PASSWORD,
) -> Page:
    """Return a page of *size* on which somebody is signed in."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    page = context.new_page()
    page.goto(urljoin(address, "/account/sign-in"))
    page.get_by_label("Sign-in name").fill(sign_in)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("navigation", name="Areas").wait_for()
    return page


def contact() -> bytes:
    """Return a picture like a photograph: three blades before a grey wall."""
    picture = Image.new("RGB", (1200, 800), "#8d918f")
    draw = ImageDraw.Draw(picture)
    for n, depth in enumerate((560, 560, 470)):
        left = 190 + n * 340
        draw.rectangle((left, 60, left + 120, depth), fill="#b87333")
        draw.rectangle((left - 40, 520, left + 160, 700), fill="#4b3a2f")
        draw.rectangle((left + 20, 520, left + 100, 640), fill="#2a211c")
    target = io.BytesIO()
    picture.filter(ImageFilter.GaussianBlur(3)).save(target, "JPEG", quality=80)
    return target.getvalue()


def small(png: bytes) -> bytes:
    """Return the picture with a palette; ValueError where it is still too large."""
    out = io.BytesIO()
    picture = Image.open(io.BytesIO(png)).convert("RGB")
    picture.quantize(COLOURS).save(out, "PNG", optimize=True)
    if out.tell() > LARGEST:
        raise ValueError(f"{out.tell()} bytes: more than {LARGEST}")
    return out.getvalue()


if __name__ == "__main__":
    main()
