"""The manifest and its icons: what a tablet needs to install the program."""

from collections.abc import Callable
from io import BytesIO

import pytest
from flask.testing import FlaskClient
from PIL import Image

from tests.webapp.desk import Desk
from webapp.icons import icon
from webapp.installable import ICONS

PAPER, ACCENT = (0xFF, 0xFE, 0xFB), (0x0B, 0x3D, 0x66)


@pytest.fixture
def client(desk_at: Callable[[str], Desk]) -> FlaskClient:
    """A browser that nobody is signed in with."""
    return desk_at("opened").passer_by().client


def test_the_manifest_names_icons_that_are_there(client: FlaskClient) -> None:
    answer = client.get("/manifest.webmanifest")
    assert answer.mimetype == "application/manifest+json"
    manifest = answer.get_json(force=True)
    assert manifest["start_url"] == "/field/tablet"
    assert manifest["display"] == "standalone"
    for named in manifest["icons"]:
        found = client.get(named["src"])
        assert (found.status_code, found.mimetype) == (200, named["type"])
        if named["type"] == "image/png":
            image = Image.open(BytesIO(found.data))
            assert "{}x{}".format(*image.size) == named["sizes"]
    assert sum(len(client.get(f"/icons/{name}").data) for name in ICONS) < 20_000


@pytest.mark.parametrize(
    ("x", "y", "colour"),
    [
        (16, 16, ACCENT),  # the middle of the sign
        (9.5, 11.5, ACCENT),  # inside its upper left corner
        (7, 11.5, PAPER),  # left of that corner
        (2.7, 20.7, ACCENT),  # inside its lower left corner
        (29, 11.5, ACCENT),
        (28, 20.5, PAPER),
        (16, 10.5, PAPER),
        (16, 21.5, PAPER),
    ],
)
def test_the_sign_is_drawn_where_favicon_has_it(
    x: float, y: float, colour: tuple[int, int, int]
) -> None:
    image = Image.open(BytesIO(icon(320))).convert("RGB")
    assert image.getpixel((int(10 * x), int(10 * y))) == colour


def test_nothing_of_a_maskable_icon_is_lost_to_the_cut() -> None:
    image = Image.open(BytesIO(icon(200, maskable=True))).convert("RGB")
    drawn = [
        (x, y)
        for x in range(200)
        for y in range(200)
        if image.getpixel((x, y)) != PAPER
    ]
    assert all((x - 99.5) ** 2 + (y - 99.5) ** 2 < 80**2 for x, y in drawn)
