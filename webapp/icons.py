"""The program's sign as a PNG of any size, drawn from the numbers of favicon.svg.

PNG: W3C Recommendation, 3rd edition; eight bits a pixel into a palette of shades.
"""

import struct
import zlib
from itertools import accumulate

PAPER, ACCENT = (0xFF, 0xFE, 0xFB), (0x0B, 0x3D, 0x66)
SIDE = 32.0  # of the drawing
TOP, BOTTOM = 11.0, 21.0
LEFT_AT_TOP, LEFT_AT_BOTTOM, WIDTH = 9.0, 2.0, 21.0
SHADES = 255
ROWS_IN_ONE = 4  # lines that a row of pixels is drawn from: the slope shows no steps
# A system may cut a maskable icon to the circle of four fifths of its width.
MASKABLE_SCALE = 0.75


def icon(size: int, *, maskable: bool = False) -> bytes:
    """Return the sign in *size* pixels a side."""
    scale = MASKABLE_SCALE if maskable else 1.0
    rows = b"".join(b"\0" + _row(row, size, scale) for row in range(size))
    palette = b"".join(_shade(n / SHADES) for n in range(SHADES + 1))
    head = struct.pack(">IIBBBBB", size, size, 8, 3, 0, 0, 0)
    parts = ((b"IHDR", head), (b"PLTE", palette), (b"IDAT", zlib.compress(rows, 9)))
    chunks = b"".join(_chunk(name, body) for name, body in (*parts, (b"IEND", b"")))
    return b"\x89PNG\r\n\x1a\n" + chunks


def _row(row: int, size: int, scale: float) -> bytes:
    """Return the shades of a row: how much of each pixel the stripe covers."""
    steps = [0.0] * (size + 2)
    for part in range(ROWS_IN_ONE):
        y = _drawn((row + (part + 0.5) / ROWS_IN_ONE) / size, scale)
        if TOP <= y < BOTTOM:
            down = (y - TOP) / (BOTTOM - TOP)
            left = LEFT_AT_TOP + down * (LEFT_AT_BOTTOM - LEFT_AT_TOP)
            _add_step(steps, _placed(left, size, scale), 1)
            _add_step(steps, _placed(left + WIDTH, size, scale), -1)
    covered = list(accumulate(steps))[:size]
    return bytes(round(SHADES * c / ROWS_IN_ONE) for c in covered)


def _add_step(steps: list[float], x: float, by: int) -> None:
    """Begin or end the stripe at *x*: a pixel that is cut is covered in part."""
    pixel, inside = divmod(x, 1)
    steps[int(pixel)] += by * (1 - inside)
    steps[int(pixel) + 1] += by * inside


def _drawn(share: float, scale: float) -> float:
    return SIDE * ((share - 0.5) / scale + 0.5)


def _placed(x: float, size: int, scale: float) -> float:
    return size * ((x / SIDE - 0.5) * scale + 0.5)


def _shade(of: float) -> bytes:
    return bytes(round(p + of * (a - p)) for p, a in zip(PAPER, ACCENT, strict=True))


def _chunk(name: bytes, body: bytes) -> bytes:
    checked = zlib.crc32(name + body)
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", checked)
