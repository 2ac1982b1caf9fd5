"""Write a picture anew, in a process of its own that can take little and not for long.

    python picture_child.py FROM TO MOST_PIXELS

Prints `jpeg` or `png`, the kind that was written, or ends with one line on its
standard error and status 1. Imports nothing of ours: it is run as a file.

What decodes pictures has had its faults; here one ends a child, not the server.
Everything beside the pixels is left behind: place, maker of the camera, serial
number, comments, profiles, thumbnails. Turned as the camera said, colours in sRGB.
"""

import sys
import warnings
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageCms, ImageOps

MEMORY = 1 << 30  # bytes of address space
SECONDS = 30
LONGEST_SIDE = 3200  # pixels: a nameplate can still be read
QUALITY = 88
KINDS = ("JPEG", "PNG", "WEBP")
DEEP = ("I", "I;16", "I;16B", "I;16L", "F")  # grey of more than 8 bits: a scale, kept


def limit_itself() -> None:
    """Take the most memory and time, where the system can be asked to."""
    try:
        import resource  # noqa: PLC0415 (not on Windows)
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def write_anew(source: Path, target: Path, most_pixels: int) -> str:
    """Decode *source* and write its pixels to *target*; return the kind written."""
    Image.MAX_IMAGE_PIXELS = most_pixels
    warnings.simplefilter("error", Image.DecompressionBombWarning)
    with Image.open(source, formats=KINDS) as opened:
        keeps = opened.format == "PNG"
        opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        profile = opened.info.get("icc_profile")
        opened.load()
        picture = ImageOps.exif_transpose(opened)
    if picture.mode in DEEP:
        picture = _deep(picture)
    else:
        picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE), reducing_gap=2.0)
        picture = _plain(picture, profile, alpha=keeps)
    picture.info.clear()
    picture.getexif().clear()
    if keeps or picture.mode in DEEP:
        picture.save(target, "PNG", optimize=False)
        return "png"
    picture.save(target, "JPEG", quality=QUALITY)
    return "jpeg"


def _deep(picture: Image.Image) -> Image.Image:
    """A grey of 16 bits is a measurement, as of a thermal camera: its values stay."""
    return picture if picture.mode.startswith("I;16") else picture.convert("I;16")


def _plain(picture: Image.Image, profile: bytes | None, *, alpha: bool) -> Image.Image:
    clear = picture.has_transparency_data
    if profile and picture.mode in ("RGB", "CMYK", "L"):
        picture = _in_srgb(picture, profile)
    if clear and alpha:
        return picture.convert("RGBA")
    if picture.mode in ("1", "L"):
        return picture.convert("L")
    if clear:
        ground = Image.new("RGBA", picture.size, "white")
        return Image.alpha_composite(ground, picture.convert("RGBA")).convert("RGB")
    return picture.convert("RGB")


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    """Return the colours as sRGB; as they are where the profile is unusable."""
    try:
        found = ImageCms.profileToProfile(
            picture,
            ImageCms.ImageCmsProfile(BytesIO(profile)),
            ImageCms.createProfile("sRGB"),
            outputMode="RGB",
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        return picture
    return found or picture


def main() -> int:
    """Write anew what the command line names."""
    limit_itself()
    try:
        kind = write_anew(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning, MemoryError):
        sys.stderr.write("too large")
        return 1
    except Exception as error:  # a broken picture breaks a decoder in many ways
        sys.stderr.write(f"cannot be decoded: {type(error).__name__}")
        return 1
    sys.stdout.write(kind)
    return 0


if __name__ == "__main__":
    sys.exit(main())
