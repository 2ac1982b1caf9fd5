"""Take the pictures of the manual and of README.md from a running demo.

Start `witnessmark demo`, then: `python docs/pictures/make.py http://127.0.0.1:8700`.
Needs the test environment and Chromium. The demo is looked at and not changed.
"""

import argparse
import io
from collections.abc import Callable
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from seed_demo.people import LEAD, OWNER, PASSWORD, TECHNICIAN, DemoPerson

HERE = Path(__file__).parent
TABLET, DESK = (1024, 768), (1440, 900)
COLOURS = 128  # of a picture's palette: enough for lines and flat tints
LARGEST = 150_000  # bytes
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
    page.locator(".conditions").evaluate("one => one.scrollIntoView()")
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


PICTURES: dict[str, tuple[DemoPerson, tuple[int, int], Callable[[Page], Page]]] = {
    "elevation": (TECHNICIAN, TABLET, elevation),
    "card": (TECHNICIAN, TABLET, card),
    "gate": (LEAD, DESK, gate),
    "trend": (OWNER, DESK, trend),
}


def main() -> None:
    """Take every picture."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("address", help="of the running demo")
    parser.add_argument("--chromium", default=CHROMIUM)
    chosen = parser.parse_args()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=chosen.chromium, args=list(ARGUMENTS)
        )
        for name, (person, size, go) in PICTURES.items():
            page = signed_in(browser, chosen.address, person, size)
            go(page).mouse.move(0, 0)
            shot = page.screenshot(animations="disabled")
            (HERE / f"{name}.png").write_bytes(small(shot))
            page.context.close()
        browser.close()


def signed_in(
    browser: Browser, address: str, person: DemoPerson, size: tuple[int, int]
) -> Page:
    """Return a page of *size* on which *person* is signed in."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    page = context.new_page()
    page.goto(f"{address}/account/sign-in")
    page.get_by_label("Sign-in name").fill(person.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("navigation").wait_for()
    return page


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
