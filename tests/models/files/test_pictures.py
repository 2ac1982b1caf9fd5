"""A picture is proved by decoding, and kept without what stood beside its pixels."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from models.errors import InputError
from models.files.pictures import write_picture
from tests.models.files import made_up_files as made

BESIDE = (b"Exif", made.CAMERA.encode(), made.COMMENT, b"xmpmeta", b"ICC_PROFILE")
BESIDE_PNG = (made.COMMENT, b"tEXt", b"iTXt", b"eXIf", b"iCCP", b"xmpmeta")


def written(tmp_path: Path, content: bytes) -> tuple[str, Image.Image, bytes]:
    source, target = tmp_path / "sent", tmp_path / "kept"
    source.write_bytes(content)
    kind = write_picture(source, target)
    kept = target.read_bytes()
    return kind, Image.open(BytesIO(kept)), kept


def colour(picture: Image.Image, x: int, y: int) -> str:
    red, _, blue = picture.convert("RGB").getpixel((x, y))
    return "red" if red > blue else "blue"


def test_a_photograph_keeps_its_pixels_and_loses_its_place(tmp_path: Path) -> None:
    sent = made.jpeg(turned=6)  # the camera was turned: red belongs to the top
    assert all(mark in sent for mark in BESIDE)
    assert Image.open(BytesIO(sent)).getexif().get_ifd(0x8825)
    kind, picture, kept = written(tmp_path, sent)
    assert kind == "jpeg"
    assert not [mark for mark in BESIDE if mark in kept]
    assert not picture.getexif()
    assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert picture.size == (40, 64)
    assert (colour(picture, 20, 8), colour(picture, 20, 56)) == ("red", "blue")


def test_what_hangs_on_a_photograph_is_gone(tmp_path: Path) -> None:
    _, _, kept = written(tmp_path, made.jpeg() + made.archive({"x.exe": b"MZ"}))
    assert b"x.exe" not in kept


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "P", "L", "1", "LA"])
def test_a_picture_without_loss_stays_without(tmp_path: Path, mode: str) -> None:
    kind, picture, kept = written(tmp_path, made.png(mode))
    assert kind == "png"
    assert not [mark for mark in BESIDE_PNG if mark in kept]
    wanted = made.two_halves(mode).convert("RGBA")
    assert picture.convert("RGBA").tobytes() == wanted.tobytes()


def test_the_values_of_a_thermal_picture_stay(tmp_path: Path) -> None:
    kind, picture, _ = written(tmp_path, made.thermal())
    assert kind == "png"
    assert [picture.getpixel((x, 3)) for x in (0, 15)] == [8000, 9500]


def test_a_clear_ground_becomes_white_in_a_webp(tmp_path: Path) -> None:
    clear = Image.new("RGBA", (8, 8), (0, 0, 0, 0))
    kind, picture, _ = written(tmp_path, made.saved(clear, "WEBP", lossless=True))
    assert kind == "jpeg"
    assert picture.getpixel((4, 4)) == (255, 255, 255)


def test_colours_of_a_press_become_those_of_a_screen(tmp_path: Path) -> None:
    sent = made.saved(made.two_halves("CMYK"), "JPEG")
    kind, picture, _ = written(tmp_path, sent)
    assert (kind, picture.mode) == ("jpeg", "RGB")
    assert (colour(picture, 8, 20), colour(picture, 56, 20)) == ("red", "blue")


REFUSED = {
    "only its first bytes": (b"\xff\xd8\xff\xe0 no picture", "cannot be opened"),
    "cut": (made.jpeg()[:-200], "cannot be opened"),
    "too many pixels": (made.bomb(), "too large"),
}


@pytest.mark.parametrize(("content", "why"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_picture(tmp_path: Path, content: bytes, why: str) -> None:
    with pytest.raises(InputError, match=why):
        written(tmp_path, content)
