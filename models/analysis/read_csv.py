"""A readings file in CSV: UTF-8, commas, double quotes."""

import csv
from collections.abc import Iterator, Sequence
from itertools import compress
from typing import BinaryIO

from models.analysis.csv_lines import Lines
from models.analysis.parts import ROWS, Misplaced, Part, header_of, whole_file
from models.errors import Fault, InputError

BYTES = 1 << 24  # of a part, where its cells are very long


class CsvSource:
    """A CSV file that was opened; faults are said by the line that a row ends in."""

    word = "line"

    def __init__(self, file: BinaryIO, rows: int = ROWS) -> None:
        """Read the header; InputError when there is none, or a wrong one.

        *rows*: at most so many are a part.
        """
        self._most = rows
        self.lines = Lines(file)
        self._reader = csv.reader(iter(self.lines), strict=True)
        try:
            first = next(self._reader, None)
            if not "".join(first or ()).strip() and not self._goes_on():
                raise whole_file("The file is empty: a header row is wanted.")
        except csv.Error as error:
            place = f"line {self._reader.line_num}"
            raise whole_file(f"{error}.", place) from error
        self.header = header_of(first or (), self.word)

    def _goes_on(self) -> bool:
        return any("".join(cells).strip() for cells in self._reader)

    def parts(self) -> Iterator[Part]:
        """Yield the rows; rows that are blank throughout are passed over."""
        more = True
        while more:
            rows: list[list[str]] = []
            places: list[int] = []
            faults: list[Misplaced] = []
            more = self._take(rows, places, faults)
            if rows or faults:
                yield self._part(rows, places, faults)

    def _take(
        self, rows: list[list[str]], places: list[int], faults: list[Misplaced]
    ) -> bool:
        """Read rows until they are a part; return whether there may be more."""
        reader, lines = self._reader, self.lines
        enough = lines.taken + BYTES
        try:
            for cells in reader:
                rows.append(cells)
                places.append(reader.line_num)
                if len(rows) >= self._most or lines.taken > enough:
                    return True
        except csv.Error as error:
            place = reader.line_num
            fault = Fault(field=f"line {place}", message=f"{error}.")
            faults.append(Misplaced(place, 0, fault))
        except InputError as error:  # what follows is not text
            place = reader.line_num + 1
            faults.extend(Misplaced(place, 0, fault) for fault in error.faults)
        return False

    def _part(
        self,
        rows: list[list[str]],
        places: Sequence[int],
        faults: list[Misplaced],
    ) -> Part:
        width = len(self.header)
        at = self.header.index("id")
        if set(map(len, rows)) - {width} or not all(
            cells[at] and not cells[at].isspace() for cells in rows
        ):
            kept = [not _blank(cells) for cells in rows]
            places = list(compress(places, kept))
            rows = list(compress(rows, kept))
            faults.extend(self._ragged(rows, places))
            kept = [len(cells) == width for cells in rows]
            places = list(compress(places, kept))
            rows = list(compress(rows, kept))
        columns: Sequence[Sequence[str]] = list(zip(*rows, strict=True))
        cells = dict(zip(self.header, columns or [()] * width, strict=True))
        return Part(places, cells, faults)

    def _ragged(
        self, rows: Sequence[list[str]], places: Sequence[int]
    ) -> Iterator[Misplaced]:
        width = len(self.header)
        for cells, place in zip(rows, places, strict=True):
            if len(cells) != width:
                message = f"{len(cells)} cells where the header has {width}."
                fault = Fault(field=f"line {place}", message=message)
                yield Misplaced(place, 0, fault)


def _blank(cells: Sequence[str]) -> bool:
    return not "".join(cells).strip()
