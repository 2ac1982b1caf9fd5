"""Judged readings as a Parquet file: the columns of the CSV, numbers as numbers."""

from typing import IO

import pyarrow as pa
import pyarrow.parquet as pq

from models.analysis.judge_part import JudgedPart
from webapp.commands.judge_columns import NAMES, NUMBERS, WORKING, brief, in_full


class ParquetWriter:
    """Writes a row group a part."""

    def __init__(self, out: IO[bytes], *, working: bool) -> None:
        """Begin the file."""
        self.words = working
        names = (*NAMES, WORKING) if working else NAMES
        self._schema = pa.schema(
            [(n, pa.float64() if n in NUMBERS else pa.string()) for n in names]
        )
        self._writer = pq.ParquetWriter(out, self._schema, compression="zstd")

    def part(self, part: JudgedPart) -> None:
        """Write a part."""
        columns = in_full(part) if self.words else brief(part)
        self._writer.write_table(pa.table(dict(columns), schema=self._schema))

    def end(self) -> None:
        """Write the foot, without which it is no Parquet file."""
        self._writer.close()
