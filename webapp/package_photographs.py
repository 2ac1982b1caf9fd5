"""The photographs that a package prints: taken from the store, made small for paper."""

import io
from collections.abc import Mapping
from typing import Any

from PIL import Image

from models.errors import StoreError
from models.files.store import FileStore
from webapp.pdf.photographs import Picture, Printed

MOST = 120  # of a package: about 15 MB
LONGEST_SIDE = 1000  # pixels: 280 a inch in half the width of A4
QUALITY = 80

Doc = Mapping[str, Any]


def printed_photographs(document: Doc, store: FileStore) -> Printed:
    """Return the pictures among the document's files that are to be printed.

    Withdrawn ones and the originals of scaled pictures are not: they are listed.
    """
    files = [one for one in document.get("files", ()) if _is_printed(one)]
    shown = files[:MOST]
    pictures = {one["sha256"]: _picture(store, one["sha256"]) for one in shown}
    return Printed(files=shown, pictures=pictures, left_out=len(files) - len(shown))


def _is_printed(file: Doc) -> bool:
    is_picture = str(file["media_type"]).startswith("image/")
    return is_picture and "original_of" not in file and not file["withdrawn"]


def _picture(store: FileStore, digest: str) -> Picture | None:
    """Return a picture made smaller; None where it is not in the store as it was.

    What is there was written by this program (`models.files.pictures`).
    """
    try:
        with store.open(digest) as file, Image.open(file) as opened:
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            small = opened.convert("RGB")
    except (OSError, StoreError):
        return None
    small.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    out = io.BytesIO()
    small.save(out, "JPEG", quality=QUALITY)
    return Picture(jpeg=out.getvalue(), width=small.width, height=small.height)
