"""A JPEG without what the camera noted: the same pixels, and nothing beside them."""

import io
from typing import Any

import pytest
from PIL import Image, ImageCms

from models.errors import InputError
from models.files.plain_jpeg import plain_jpeg

NOTED = (b"Nikola", b"Secret", b"Exif", b"thumbnail", b"http://ns.adobe.com")
PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def camera_jpeg(orientation: int = 1, **how: Any) -> bytes:
    """Return a picture with place, maker, comment, colour profile and a tail."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "Nikola Secret"  # maker
    exif[0x8825] = {1: "N", 2: (47.0, 22.0, 30.0), 3: "E", 4: (8.0, 32.0, 0.0)}
    ramp = bytes(range(256)) * (3 * 90)
    target = io.BytesIO()
    Image.frombytes("RGB", (256, 90), ramp).save(
        target,
        "JPEG",
        exif=exif,
        comment=b"Secret",
        icc_profile=PROFILE,
        xmp=b"<x:xmpmeta>Secret</x:xmpmeta>",
        **how,
    )
    return target.getvalue() + b"\xff\xd8 a second thumbnail behind the end"


@pytest.mark.parametrize("how", [{}, {"progressive": True}, {"restart_marker_rows": 2}])
@pytest.mark.parametrize("orientation", [1, 6, 8])
def test_the_pixels_are_the_same_and_nothing_is_noted(
    how: dict[str, Any], orientation: int
) -> None:
    before = camera_jpeg(orientation, **how)
    assert all(words in before for words in (b"Nikola", b"Secret", b"thumbnail"))
    after = plain_jpeg(before)
    noted = [words for words in NOTED if words in after]
    assert noted == ([] if orientation == 1 else [b"Exif"])
    with Image.open(io.BytesIO(before)) as old, Image.open(io.BytesIO(after)) as new:
        assert old.tobytes() == new.tobytes()
        assert new.info["icc_profile"] == PROFILE
        left = dict(new.getexif())
        assert left == ({} if orientation == 1 else {0x0112: orientation})
    assert plain_jpeg(after) == after


def test_what_is_cut_or_is_no_jpeg_is_refused() -> None:
    whole = camera_jpeg()
    end = whole.index(b"\xff\xd8 a second")
    for data in (b"", b"\xff\xd8", b"GIF89a", *(whole[:n] for n in range(2, end, 97))):
        with pytest.raises(InputError, match="no whole JPEG"):
            plain_jpeg(data)


def test_a_turn_that_is_none_is_left_out() -> None:
    for orientation in (0, 9, 40_000):
        with Image.open(io.BytesIO(plain_jpeg(camera_jpeg(orientation)))) as found:
            assert not found.getexif()
