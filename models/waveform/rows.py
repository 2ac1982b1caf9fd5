"""The rows of a record's data, as they lie in the file: how many, and their numbers.

The reader pads a short file with zeros in silence, so the rows are counted before.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.waveform.configuration import Configuration
from models.waveform.refusal import AGAIN, refused

WIDTH = {"BINARY": ("<i2", 2), "BINARY32": ("<i4", 4), "FLOAT32": ("<f4", 4)}
END_OF_TEXT = b"\x1a"  # hung on by old systems
BLANK_STAMP = 0xFFFFFFFF  # IEEE C37.111: no stamp in this row (from memory)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Sample numbers and stamps as stored; *data* is what the reader is given.

    *raw* holds the analog values as stored, where they are whole numbers.
    """

    numbers: NDArray[np.float64]
    stamps: NDArray[np.float64]  # NaN where there is none
    data: bytes | str
    raw: NDArray[np.int64] | None = None


def rows_of(found: Configuration, data: bytes) -> Rows:
    """Return the rows; InputError unless there are as many as are declared."""
    if found.data_type == "ASCII":
        return _text_rows(found, data)
    return _binary_rows(found, data)


def _short(found: Configuration, have: int) -> Exception:
    few = have < found.samples
    return refused(
        f"The configuration says {found.samples:,} samples, the data hold {have:,}: "
        + (
            "the data were cut, or are of another type; what is missing could be the "
            "trip. "
            if few
            else "the two files are not of one record, or of another type of data. "
        )
        + AGAIN
    )


def _binary_rows(found: Configuration, data: bytes) -> Rows:
    kind, width = WIDTH[found.data_type]
    words = -(-len(found.status) // 16)
    row = 8 + width * len(found.analog) + 2 * words
    due = row * found.samples
    surplus = data[due:]
    if len(data) < due or surplus.strip(END_OF_TEXT):
        raise _short(found, len(data) // row)
    fields: list[tuple[str, str] | tuple[str, str, tuple[int]]] = [
        ("number", "<u4"),
        ("stamp", "<u4"),
        ("analog", kind, (len(found.analog),)),
        ("status", "<u2", (words,)),
    ]
    rows = np.frombuffer(data, dtype=np.dtype(fields), count=found.samples)
    stamps = rows["stamp"].astype(np.float64)
    stamps[rows["stamp"] == BLANK_STAMP] = np.nan
    return Rows(
        numbers=rows["number"].astype(np.float64),
        stamps=stamps,
        data=data[:due],
        raw=None if kind == "<f4" else rows["analog"].astype(np.int64),
    )


def _text_rows(found: Configuration, data: bytes) -> Rows:
    try:
        text = data.replace(END_OF_TEXT, b"").decode("ascii")
    except UnicodeDecodeError as error:
        raise refused(
            "The configuration says that the data are text (ASCII), but they are not: "
            f"the two files are not of one record. {AGAIN}"
        ) from error
    lines = [line for line in text.split("\n") if line.strip()]
    if len(lines) != found.samples:
        raise _short(found, len(lines))
    width = 2 + len(found.analog) + len(found.status)
    numbers, stamps = [], []
    for at, line in enumerate(lines, 1):
        fields = line.split(",", 2)
        if line.count(",") != width - 1:
            raise refused(
                f"Row {at} of the data has {line.count(',') + 1} fields where "
                f"{width} are due. {AGAIN}"
            )
        try:
            numbers.append(float(fields[0]))
            stamps.append(float(fields[1]) if fields[1].strip() else np.nan)
        except ValueError as error:
            message = f"Row {at} of the data does not begin with a sample number."
            raise refused(f"{message} {AGAIN}") from error
    return Rows(
        numbers=np.array(numbers), stamps=np.array(stamps), data="\n".join(lines)
    )
