"""The parts of an export, one after the other: path and content."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, BinaryIO

from sqlalchemy.orm import Session

from models.files.store import FileStore, pieces
from models.record.shapes.json_schema import schema_text
from models.services.export import records
from models.services.export.row_schema import row_schema
from models.services.export.rows import ScopeRows
from models.services.export.scope import Scope
from webapp.export.counted import Counted
from webapp.export.csv_tables import (
    FILE_FIELDS,
    READING_FIELDS,
    CsvTable,
    file_row,
    reading_row,
    table_schemas,
)
from webapp.export.readme import readme
from webapp.export.record_schemas import LOG_SCHEMA

Content = Iterable[bytes]


@dataclass(frozen=True, slots=True)
class Part:
    """One file of an export; *content* is read once, before the next part."""

    path: str
    content: Content


def parts(session: Session, store: FileStore, scope: Scope) -> Iterator[Part]:
    """Yield every part of the export of *scope* but its sums, in a fixed order.

    The same database gives the same bytes. One round is in memory at a time.
    Raises StoreError where an attached file cannot be read.
    """
    counted = Counted()
    rows = ScopeRows(session, scope)
    with CsvTable(READING_FIELDS) as readings, CsvTable(FILE_FIELDS) as files:
        yield from _rounds(session, scope, counted, readings)
        yield Part("readings.csv", readings.content())
        yield from _files(session, store, rows, counted, files)
        yield Part("files.csv", files.content())
        yield Part("datapackage.json", _json(table_schemas(scope, readings, files)))
    yield from _tables(rows, counted)
    yield Part("log.jsonl", _log(session, rows, counted))
    yield Part("schemas/log.json", _json(LOG_SCHEMA))
    yield Part("schemas/record.json", [schema_text("round_record").encode()])
    root = records.root_certificate(session)
    yield Part("certificates/witnessmark-root.pem", [root.encode()])
    yield Part("README.txt", [readme(scope, counted).encode()])


def _rounds(
    session: Session, scope: Scope, counted: Counted, readings: CsvTable
) -> Iterator[Part]:
    for number, round_id in enumerate(scope.round_ids, start=1):
        info = records.round_info(session, round_id)
        folder = f"rounds/{number:03d}-{slug(f'{info.lineup} {info.title}')}"
        counted.rounds.append(f"{folder}: {info.lineup}, {info.title}")
        record = records.round_record(session, round_id)
        for card in record["cards"]:
            for reading in card["readings"]:
                readings.add(reading_row(info, card, reading))
                counted.readings += 1
        yield Part(f"{folder}/record.json", _json(record))
        for one in records.packages_of(session, round_id):
            counted.packages += 1
            name = f"package-revision-{one.revision}-{one.attempt}.pdf"
            yield Part(f"{folder}/{name}", [records.signed_pdf(session, one.file_id)])
        session.expunge_all()


def _files(
    session: Session,
    store: FileStore,
    rows: ScopeRows,
    counted: Counted,
    table: CsvTable,
) -> Iterator[Part]:
    """Yield each content once, under the name of its first attachment."""
    paths: dict[str, str] = {}
    for one in records.attached_files(session, rows):
        digest = one["sha256"]
        if digest not in paths:
            paths[digest] = f"files/{digest}/{one['name']}"
            yield Part(paths[digest], _stored(store.open(digest)))
        table.add(file_row(one, paths[digest]))
        counted.files += 1
    session.expunge_all()


def _stored(file: BinaryIO) -> Iterator[bytes]:
    with file:
        yield from pieces(file)


def _tables(rows: ScopeRows, counted: Counted) -> Iterator[Part]:
    for name in rows.tables():
        yield Part(f"tables/{name}.json", _listed(name, rows, counted))
        yield Part(f"schemas/tables/{name}.json", _json(row_schema(name)))


def _listed(name: str, rows: ScopeRows, counted: Counted) -> Iterator[bytes]:
    """Yield a list of JSON, one row a line."""
    before = b"[\n"
    for row in rows.rows(name):
        yield before + _line(row)
        before = b",\n"
        counted.rows[name] = counted.rows.get(name, 0) + 1
    yield b"\n]\n"


def _log(session: Session, rows: ScopeRows, counted: Counted) -> Iterator[bytes]:
    for entry in records.log_lines(session, rows):
        counted.log += 1
        yield _line(entry) + b"\n"


def _line(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False).encode()


def _json(value: Any) -> list[bytes]:
    return [json.dumps(value, ensure_ascii=False, indent=1).encode() + b"\n"]


def slug(name: str) -> str:
    """Return a name as part of a path, in small letters and hyphens."""
    words = "".join(c if c.isalnum() and c.isascii() else " " for c in name)
    return "-".join(words.lower().split())[:80] or "round"
