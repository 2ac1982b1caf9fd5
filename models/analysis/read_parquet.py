"""A readings file in Parquet: columns of text or of numbers."""

from collections.abc import Iterator, Sequence
from typing import Any, BinaryIO

import pyarrow as pa
import pyarrow.parquet as pq

from models.analysis.parts import ROWS, Part, header_of, whole_file
from models.errors import Fault, InputError

NO_FILE = "this is not a Parquet file that can be read."


class ParquetSource:
    """A Parquet file that was opened; faults are said by the row's number, from 1."""

    word = "row"

    def __init__(self, file: BinaryIO, rows: int = ROWS) -> None:
        """Look at the columns; InputError for such as cannot hold readings."""
        self._most = rows
        try:
            self._file = pq.ParquetFile(file)
            schema = self._file.schema_arrow
            names = schema.names
        except (pa.ArrowException, OSError, UnicodeDecodeError) as error:
            raise whole_file(NO_FILE, "row 1") from error
        self.header = header_of(names, self.word)
        wrong = [
            Fault(
                field=f"column {field.name}",
                message=f"holds {field.type}: text or numbers are wanted.",
            )
            for field in schema
            if not _fits(field.type)
        ]
        if wrong:
            raise InputError(*wrong)

    def parts(self) -> Iterator[Part]:
        """Yield the rows; rows that are blank throughout are passed over."""
        start = 1
        try:
            for batch in self._file.iter_batches(batch_size=self._most):
                yield self._part(batch, start)
                start += batch.num_rows
        except (pa.ArrowException, OSError) as error:
            raise whole_file(NO_FILE, f"row {start}") from error

    def _part(self, batch: Any, start: int) -> Part:
        columns = [
            self._column(name, column, start)
            for name, column in zip(self.header, batch.columns, strict=True)
        ]
        places: Sequence[int] = range(start, start + batch.num_rows)
        kept = [
            at
            for at, row in enumerate(zip(*columns, strict=True))
            if "".join(row).strip()
        ]
        if len(kept) < len(places):
            places = [places[at] for at in kept]
            columns = [[column[at] for at in kept] for column in columns]
        return Part(places, dict(zip(self.header, columns, strict=True)))

    def _column(self, name: str, column: Any, start: int) -> list[str]:
        try:
            return _texts(column)
        except UnicodeDecodeError as error:
            row = start + next(at for at, cell in enumerate(column) if _broken(cell))
            place = f"row {row}, column {name}"
            raise whole_file("the text is not UTF-8.", place) from error


def _broken(cell: Any) -> bool:
    try:
        cell.as_py()
    except UnicodeDecodeError:
        return True
    return False


def _fits(kind: Any) -> bool:
    if pa.types.is_dictionary(kind):
        kind = kind.value_type
    return bool(
        pa.types.is_string(kind)
        or pa.types.is_large_string(kind)
        or pa.types.is_string_view(kind)
        or pa.types.is_integer(kind)
        or pa.types.is_floating(kind)
        or pa.types.is_decimal(kind)
        or pa.types.is_null(kind)
    )


def _texts(column: Any) -> list[str]:
    """Return cells as they are typed; a null is a blank, NaN is not a number."""
    if pa.types.is_float32(column.type) or pa.types.is_float16(column.type):
        # The shortest text of a number in its own precision, not of its double.
        numbers = column.to_numpy(zero_copy_only=False)
        nulls = column.is_null().to_pylist()
        return ["" if null else str(n) for n, null in zip(numbers, nulls, strict=True)]
    return ["" if cell is None else str(cell) for cell in column.to_pylist()]
