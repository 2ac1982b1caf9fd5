"""A JPEG's own bytes, without what a camera noted beside its pixels.

Markers: ISO/IEC 10918-1, B.1.1.3; Exif 2.32 (CIPA DC-008), 4.5 and 4.6.
"""

import struct
from collections.abc import Iterator

from models.files.kinds import refused

START, END = b"\xff\xd8", b"\xff\xd9"
SCAN, COMMENT, EXIF_PART = 0xDA, 0xFE, 0xE1
EXIF = b"Exif\0\0"
ORIENTATION = 0x0112
# Segments that a picture is drawn by: JFIF, colour profile, Adobe's colour transform.
DRAWN_BY = ((0xE0, b"JFIF\0"), (0xE2, b"ICC_PROFILE\0"), (0xEE, b"Adobe"))
STUFFING = {0x00, *range(0xD0, 0xD8)}  # after FF within a scan: a byte FF, a restart


def plain_jpeg(data: bytes) -> bytes:
    """Return the same picture without place, maker, comments, thumbnails or a tail.

    Its pixels are not decoded and not written anew. Which side is up stays, alone.
    Raises InputError for what is no whole JPEG.
    """
    kept, upright = [], b""
    for marker, part in _parts(data):
        if marker == EXIF_PART and part[4:10] == EXIF:
            upright = upright or _side_up(_orientation(part[10:]))
        if not _is_noted(marker, part):
            kept.append(part)
    return b"".join((START, upright, *kept, END))


def _parts(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield (marker, bytes) of each part; a scan with its data is one."""
    at = 2
    while data[:2] == START and data[at : at + 1] == b"\xff" and at + 1 < len(data):
        marker = data[at + 1]
        if marker == 0xFF:  # filled up before a marker
            at += 1
            continue
        if marker == END[1]:
            return
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        to = at + 2 + length
        if length < 2 or to > len(data):
            break
        if marker == SCAN:
            to = _scan_end(data, to)
        yield marker, data[at:to]
        at = to
    raise refused("The original is no whole JPEG picture: it was cut.")


def _scan_end(data: bytes, start: int) -> int:
    at = data.find(b"\xff", start)
    while at >= 0 and data[at + 1 : at + 2] and data[at + 1] in STUFFING:
        at = data.find(b"\xff", at + 2)
    return at if at >= 0 else len(data)


def _is_noted(marker: int, part: bytes) -> bool:
    if marker == COMMENT:
        return True
    if not 0xE0 <= marker <= 0xEF:
        return False
    return not any(marker == of and part[4:].startswith(name) for of, name in DRAWN_BY)


def _orientation(tiff: bytes) -> int:
    """Return which side is up, 1 to 8; 1 where it is not said or cannot be read."""
    order = "<" if tiff[:2] == b"II" else ">"
    try:
        (first,) = struct.unpack_from(f"{order}I", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, first)
        for entry in range(count):
            tag, _, _, value = struct.unpack_from(
                f"{order}HHIH", tiff, first + 2 + 12 * entry
            )
            if tag == ORIENTATION:
                return int(value) if 1 <= value <= 8 else 1
    except struct.error:
        pass
    return 1


def _side_up(orientation: int) -> bytes:
    """Return a segment that says which side is up; none for an upright picture."""
    if orientation == 1:
        return b""
    entry = struct.pack(">HHIHH", ORIENTATION, 3, 1, orientation, 0)
    tiff = b"MM\0\x2a" + struct.pack(">IH", 8, 1) + entry + bytes(4)
    return b"\xff\xe1" + struct.pack(">H", 2 + len(EXIF) + len(tiff)) + EXIF + tiff
