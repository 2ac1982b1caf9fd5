"""The tables of an export as CSV, and their description: a tabular data package.

Form: Frictionless Data Package 1, tabular profile; units as UCUM codes.
"""

import csv
import hashlib
import io
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from types import TracebackType
from typing import Any

from models.files.store import pieces
from models.services.export.records import RoundInfo
from models.services.export.scope import Scope
from webapp.pdf.columns import COLUMNS, row_of
from webapp.words.csv_cells import safe

Doc = Mapping[str, Any]
Field = dict[str, Any]
IN_MEMORY = 1 << 20  # bytes; what is longer lies in a temporary file


def _text(name: str, about: str, kind: str = "string") -> Field:
    return {"name": name, "type": kind, "description": about}


READING_FIELDS: list[Field] = [
    _text("site", "The site"),
    _text("lineup", "The lineup"),
    _text("round_id", "Identifier of the round"),
    _text("round", "The round"),
    *(column.described() for column in COLUMNS),
]
FILE_FIELDS: list[Field] = [
    _text("id", "Identifier of the attachment"),
    _text("path", "Where its content is in this export"),
    _text("subject", "What kind of thing it is attached to"),
    _text("subject_id", "Identifier of that thing"),
    _text("name", "Its name as shown"),
    _text("media_type", "What it was found to be"),
    _text("size", "Bytes", "integer"),
    _text("sha256", "SHA-256 of the content"),
    _text("sent_sha256", "SHA-256 of what was sent: pictures are written anew"),
    _text("note", "What was said of it"),
    _text("by", "Who attached it"),
    _text("at", "When, UTC", "datetime"),
    _text("withdrawn_by", "Who said that it does not count"),
    _text("withdrawn_at", "When, UTC", "datetime"),
    _text("withdrawn_reason", "Why"),
]


def reading_row(info: RoundInfo, card: Doc, reading: Doc) -> list[str]:
    """Return the row of a reading."""
    names = [info.site, info.lineup, str(info.id), info.title]
    return [*map(safe, names), *row_of(card, reading)]


def file_row(file: Doc, path: str) -> list[str]:
    """Return the row of an attachment whose content is at *path*."""
    gone = file["withdrawn"] or {}
    said = {"path": path, **{f"withdrawn_{k}": v for k, v in gone.items()}}
    return [
        safe(str(said.get(one["name"], file.get(one["name"], ""))))
        for one in FILE_FIELDS
    ]


class CsvTable:
    """A table that grows row by row and is read once (RFC 4180, UTF-8)."""

    def __init__(self, fields: Sequence[Field]) -> None:
        """Begin with the line of names."""
        self.fields = fields
        self.size = 0
        self._digest = hashlib.sha256()
        self._file = tempfile.SpooledTemporaryFile(IN_MEMORY)  # noqa: SIM115
        self.add([one["name"] for one in fields])

    def __enter__(self) -> "CsvTable":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._file.close()

    def add(self, row: Sequence[str]) -> None:
        """Add a row."""
        line = io.StringIO()
        csv.writer(line, lineterminator="\r\n").writerow(row)
        written = line.getvalue().encode()
        self.size += len(written)
        self._digest.update(written)
        self._file.write(written)

    def content(self) -> Iterator[bytes]:
        """Yield the whole table."""
        self._file.seek(0)
        yield from pieces(self._file)  # type: ignore[arg-type]

    def resource(self, name: str, title: str) -> dict[str, Any]:
        """Return the table's description."""
        return {
            "profile": "tabular-data-resource",
            "name": name,
            "title": title,
            "path": f"{name}.csv",
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "bytes": self.size,
            "hash": f"sha256:{self._digest.hexdigest()}",
            "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "header": True},
            "schema": {
                "fields": list(self.fields),
                "primaryKey": "reading_id" if name == "readings" else "id",
                "missingValues": [""],
            },
        }


def table_schemas(scope: Scope, readings: CsvTable, files: CsvTable) -> dict[str, Any]:
    """Return the description of both tables."""
    return {
        "profile": "tabular-data-package",
        "name": "witnessmark-export",
        "title": f"Export of {scope.name}",
        "resources": [
            readings.resource("readings", "Every reading, superseded ones too"),
            files.resource("files", "Every attached file"),
        ],
    }
