"""A label from the printer is held before the tablet's camera: its card opens."""

import shutil
import subprocess
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, expect

from tests.browser.chromium import ARGUMENTS
from tests.browser.conftest import Served
from tests.browser.crew import (
    TABLET,
    TABLET_UPRIGHT,
    AtWork,
    check_page,
    open_page,
    sign_in,
)
from tests.scenario import RT, TECHNICIAN, lineup_id

pytestmark = [pytest.mark.browser, pytest.mark.needs("poppler")]
DPI = 150
PICTURE = (1280, 720)  # what the camera gives


def film(pdf: bytes, folder: Path, place: int) -> Path:
    """Return a film of one label of the sheet, as the camera sees it."""
    (folder / "labels.pdf").write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-png", "-singlefile", "labels.pdf", "page"],
        cwd=folder,
        check=True,
    )
    row, column = divmod(place, 3)
    mm = DPI / 25.4
    left, top = column * 70 * mm, (0.5 + row * 37) * mm
    box = (int(left), int(top), int(left + 70 * mm), int(top + 37 * mm))
    with Image.open(folder / "page.png") as page:
        label = page.crop(box)
        seen = Image.new("RGB", PICTURE, "#8a8f94")
        seen.paste(label.rotate(8, fillcolor="#8a8f94", expand=True), (380, 200))
    planes = [band.tobytes() for band in seen.convert("YCbCr").split()[:1]]
    chroma = seen.convert("YCbCr").resize((PICTURE[0] // 2, PICTURE[1] // 2))
    planes += [band.tobytes() for band in chroma.split()[1:]]
    path = folder / "film.y4m"
    head = f"YUV4MPEG2 W{PICTURE[0]} H{PICTURE[1]} F10:1 Ip A1:1 C420jpeg\n".encode()
    path.write_bytes(head + (b"FRAME\n" + b"".join(planes)) * 2)
    return path


def test_a_label_before_the_camera_opens_its_card(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    with served.session() as session:
        work = AtWork.now(session)
        session.commit()
        round_id, card_id = work.round_id, work.card("relay 51", RT).id
    context, page = open_page(browser, served, TABLET)
    sign_in(page, TECHNICIAN)
    sheet = context.request.get(f"/gear/lineups/{lineup_id()}/labels.pdf").body()
    page.goto(f"/field/rounds/{round_id}/#/scan")
    expect(page.get_by_text("no camera")).to_be_visible()
    check_page(page)
    context.close()
    seeing = browser.browser_type.launch(
        executable_path=shutil.which("chromium"),
        args=[
            *ARGUMENTS,
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
            f"--use-file-for-fake-video-capture={film(sheet, tmp_path, 3)}",
        ],
    )
    context, page = open_page(seeing, served, TABLET_UPRIGHT)
    context.grant_permissions(["camera"])
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/")
    page.get_by_role("link", name="Scan a label").click()
    expect(page.get_by_role("heading", name="relay 51")).to_be_visible()
    assert page.url.endswith(f"#/cards/{card_id}")
    seeing.close()
