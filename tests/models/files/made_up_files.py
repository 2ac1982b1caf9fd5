"""Made-up files of every kind, good and bad, as bytes."""

import zipfile
from io import BytesIO
from typing import Any

from PIL import Image, ImageCms, PngImagePlugin

PDF = b"%PDF-1.7\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF\n"
PLACE = {1: "S", 2: (36.0, 50.0, 54.0), 3: "E", 4: (174.0, 45.0, 48.0)}
CAMERA = "MADE-UP CAMERA"
COMMENT = b"taken in the switch room"
XMP = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>the crew's names</x:xmpmeta>"


def two_halves(mode: str = "RGB") -> Image.Image:
    """A picture, red on the left and blue on the right."""
    made = Image.new("RGB", (64, 40), (220, 20, 20))
    made.paste((20, 20, 220), (32, 0, 64, 40))
    return made.convert(mode)


def jpeg(*, turned: int = 1) -> bytes:
    """A photograph with its place, camera, comment, profile and extra in it."""
    exif = Image.Exif()
    exif[0x0112] = turned  # orientation
    exif[0x010F] = CAMERA
    exif[0x8825] = PLACE
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return saved(
        two_halves(),
        "JPEG",
        exif=exif,
        comment=COMMENT,
        icc_profile=profile,
        xmp=XMP,
        quality=95,
    )


def png(mode: str = "RGB", **options: Any) -> bytes:
    """A picture without loss, with texts in it."""
    said = PngImagePlugin.PngInfo()
    said.add_text("Comment", COMMENT.decode())
    said.add_itxt("XML:com.adobe.xmp", XMP.decode())
    return saved(two_halves(mode), "PNG", pnginfo=said, **options)


def thermal() -> bytes:
    """A grey picture of 16 bits, such as a thermal camera makes."""
    made = Image.new("I;16", (16, 16))
    for x in range(16):
        for y in range(16):
            made.putpixel((x, y), 8000 + 100 * x)
    return saved(made, "PNG")


def bomb() -> bytes:
    """A small file of 16,000 x 16,000 pixels."""
    return saved(Image.new("1", (16_000, 16_000)), "PNG")


def saved(picture: Image.Image, form: str, **options: Any) -> bytes:
    """Return the picture as a file."""
    out = BytesIO()
    picture.save(out, form, **options)
    return out.getvalue()


def archive(parts: dict[str, bytes]) -> bytes:
    """Return a zip archive."""
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, content in parts.items():
            made.writestr(name, content)
    return out.getvalue()


def workbook(types: bytes = b"<Types/>", **more: bytes) -> bytes:
    """Return what looks like a workbook; *more*: parts by name."""
    return archive(
        {
            "[Content_Types].xml": types,
            "xl/workbook.xml": b"<workbook/>",
            "_rels/.rels": b"<Relationships/>",
        }
        | more
    )
