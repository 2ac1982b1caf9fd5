"""A readings file as a workbook (XLSX): the cells of one sheet, as they are stored."""

import zipfile
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any, BinaryIO

from openpyxl import load_workbook

from models.analysis.parts import ROWS, Misplaced, Part, header_of, whole_file
from models.errors import Fault, InputError

LARGEST = 4 << 30  # bytes of what is in the archive
LARGEST_BESIDE = 256 << 20  # bytes of all but the sheets: it is held in memory
SHEETS = "xl/worksheets/"
LAST_ROW = 1 << 20  # that a sheet has (common practice of spreadsheet programs)
REFUSED = {
    "f": "a formula: put its result in its place, as a value.",
    "e": "the cell holds an error.",
    "b": "TRUE or FALSE is no reading.",
    "d": "the cell is a date or a time: write the number as text.",
}
NO_WORKBOOK = "this is not a workbook (XLSX) that can be read."


class WorkbookSource:
    """A sheet of a workbook that was opened; faults are said by the row's number."""

    word = "row"

    def __init__(
        self, file: BinaryIO, sheet: str | None = None, rows: int = ROWS
    ) -> None:
        """Read the header of *sheet*; None: the workbook has no other."""
        self._most = rows
        opened = _sheet(file, sheet)
        self._rows = enumerate(opened.iter_rows(), start=1)
        try:
            _, first = next(self._rows, (1, ()))
        except Exception as error:  # whatever the XML in it may be
            raise whole_file(NO_WORKBOOK, "row 1") from error
        texts = [_text(cell)[0] for cell in first]
        while texts and not texts[-1].strip():
            texts.pop()
        if not texts:
            raise whole_file("The sheet is empty: a header row is wanted.", "row 1")
        self.header = header_of(texts, self.word)
        _keep_narrow(opened, len(self.header))

    def parts(self) -> Iterator[Part]:
        """Yield the rows; rows that are blank throughout are passed over."""
        while rows := self._take():
            yield self._part(rows)

    def _take(self) -> list[tuple[int, Sequence[Any]]]:
        try:
            rows = list(islice(self._rows, self._most))
        except Exception as error:
            raise whole_file(NO_WORKBOOK, "row 1") from error
        if rows and rows[-1][0] > LAST_ROW:
            raise whole_file(f"a sheet ends at row {LAST_ROW}.", f"row {LAST_ROW + 1}")
        return rows

    def _part(self, rows: list[tuple[int, Sequence[Any]]]) -> Part:
        places: list[int] = []
        table: list[list[str]] = []
        faults: list[Misplaced] = []
        for place, cells in rows:
            texts = [_text(cell) for cell in cells]
            if not any(text.strip() or wrong for text, wrong in texts):
                continue
            faults.extend(self._wrong(place, texts))
            row = [text for text, _ in texts[: len(self.header)]]
            places.append(place)
            table.append(row + [""] * (len(self.header) - len(row)))
        columns = list(zip(*table, strict=True)) or [()] * len(self.header)
        return Part(places, dict(zip(self.header, columns, strict=True)), faults)

    def _wrong(self, place: int, texts: list[tuple[str, str]]) -> Iterator[Misplaced]:
        width = len(self.header)
        if any(text.strip() or wrong for text, wrong in texts[width:]):
            said = f"cells beyond the {width} of the header."
            yield Misplaced(place, 0, Fault(field=f"row {place}", message=said))
        for name, (_, wrong) in zip(self.header, texts, strict=False):
            if wrong:
                field = f"row {place}, column {name}"
                yield Misplaced(place, 0, Fault(field=field, message=wrong))


def _sheet(file: BinaryIO, name: str | None) -> Any:
    try:
        with zipfile.ZipFile(file) as archive:
            entries = archive.infolist()
        size = sum(entry.file_size for entry in entries)
        sheets = sum(e.file_size for e in entries if e.filename.startswith(SHEETS))
        if size > LARGEST or size - sheets > LARGEST_BESIDE:
            raise whole_file(f"{NO_WORKBOOK[:-1]}: it is too large.", "row 1")
        row_rules = load_workbook(file, read_only=True)
    except InputError:
        raise
    except Exception as error:  # the library raises what its parts raise
        raise whole_file(NO_WORKBOOK, "row 1") from error
    names = [sheet.title for sheet in row_rules.worksheets]
    if name is None and len(names) == 1:
        name = names[0]
    if name not in names:
        known = ", ".join(names)
        said = f"name the sheet with --sheet; the workbook has {known}."
        raise whole_file(said, "row 1")
    sheet = row_rules[name]
    sheet.reset_dimensions()  # what a file says of its size need not be so
    return sheet


def _keep_narrow(sheet: Any, width: int) -> None:
    """Let rows have *width* cells, and one more for the first that is beyond.

    The library would fill a row up to its last cell, wherever that is; nothing
    public comes between.
    """
    filled = sheet._get_row

    def narrow(row: Sequence[Mapping[str, Any]], *_asked: Any) -> Sequence[Any]:
        kept = [cell for cell in row if cell["column"] <= width]
        beyond = (cell for cell in row if cell["column"] > width and _filled(cell))
        kept.extend({**cell, "column": width + 1} for cell in islice(beyond, 1))
        return filled(kept, 1, width + 1)  # type: ignore[no-any-return]

    sheet._get_row = narrow


def _filled(cell: Mapping[str, Any]) -> bool:
    return cell["value"] is not None and bool(str(cell["value"]).strip())


def _text(cell: Any) -> tuple[str, str]:
    """Return what a cell holds as it is typed, and what is wrong with it.

    A number is stored as it was typed; one shown as a percentage is a hundredth of
    what people see, and is refused rather than misread.
    """
    value = cell.value
    if value is None:
        return "", ""
    if cell.data_type in REFUSED:
        return "", REFUSED[cell.data_type]
    if isinstance(value, str):
        return _encodable(value)
    if "%" in str(cell.number_format):
        return "", "a number shown as a percentage: write it as text, such as 5%."
    return (repr(value), "") if isinstance(value, int | float) else ("", NO_WORKBOOK)


def _encodable(text: str) -> tuple[str, str]:
    try:
        text.encode()
    except UnicodeEncodeError:
        return "", "half a character is no text."
    return text, ""
