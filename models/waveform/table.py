"""A table of samples (CSV): a column of time, and columns of what was measured."""

import csv
import re
from collections.abc import Iterator, Sequence
from io import StringIO

import numpy as np

from models.judging.quantities import UNITS, convert, unit_name
from models.waveform.configuration import LONGEST_NAME, MOST_VALUES
from models.waveform.curve import Channel
from models.waveform.refusal import refused

DELIMITERS = ";\t,"  # a table with semicolons may have decimal commas
HEAD = re.compile(r"^(?P<name>.*?)\s*[\[(]\s*(?P<unit>[^\])]+?)\s*[\])]\s*$")
FORM = (
    "Send a table whose first line names its columns with their units, time first: "
    "time (ms), travel (mm)."
)


def read_table(kept: bytes) -> list[Channel]:
    """Return the columns beside the time; InputError with the line of a fault."""
    try:
        text = kept.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refused(f"This is no text in UTF-8. {FORM}") from error
    first = text.split("\n", 1)[0]
    delimiter = max(DELIMITERS, key=first.count)
    lines = [row for row in csv.reader(StringIO(text), delimiter=delimiter) if row]
    if len(lines) < 3 or len(lines[0]) < 2:
        raise refused(f"This is no table of samples. {FORM}")
    heads = [_head(one) for one in lines[0]]
    time_unit = unit_name(heads[0][1])
    if time_unit is None or UNITS[time_unit].quantity != UNITS["ms"].quantity:
        raise refused(f"The first column is no time in s or ms. {FORM}")
    if len(lines) * len(heads) > MOST_VALUES:
        raise refused("This table is too long: send the moments around the operation.")
    values = np.array(list(_numbers(lines[1:], len(heads), delimiter)))
    time = values[:, 0] * convert(1.0, time_unit, "ms")
    if not (np.diff(time) > 0).all():
        at = int(np.flatnonzero(np.diff(time) <= 0)[0]) + 3
        raise refused(f"The time does not rise from line {at - 1} to line {at}.")
    return [
        Channel(name=name, unit=unit, time_ms=time, values=values[:, at])
        for at, (name, unit) in enumerate(heads)
        if at > 0
    ]


def _head(text: str) -> tuple[str, str]:
    found = HEAD.match(text.strip())
    name, unit = (found["name"], found["unit"]) if found else (text.strip(), "")
    return name[:LONGEST_NAME], unit


def _numbers(
    lines: Sequence[Sequence[str]], width: int, delimiter: str
) -> Iterator[list[float]]:
    for number, line in enumerate(lines, start=2):
        if len(line) != width:
            raise refused(
                f"Line {number} has {len(line)} columns where {width} are due. {FORM}"
            )
        try:
            yield [_number(one, delimiter) for one in line]
        except ValueError as error:
            raise refused(f"Line {number} holds what is no number. {FORM}") from error


def _number(text: str, delimiter: str) -> float:
    plain = text if delimiter == "," else text.replace(",", ".")
    value = float(plain)
    if not abs(value) < 1e30:
        raise ValueError(text)
    return value
