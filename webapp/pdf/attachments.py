"""The data inside the file: the document itself, its readings as CSV, the root."""

import csv
import hashlib
import io
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from models.record.safety_report.attached import attached_safety
from models.signing.chain import canonical
from webapp.pdf.columns import COLUMNS, row_of

Doc = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A file inside the file; *relationship* is Source or Data (ISO 32000-2)."""

    name: str
    data: bytes
    mime: str
    relationship: str
    description: str


def package_attachments(document: Doc, root_pem: str) -> list[Attachment]:
    """Return the files to put into the package of *document*."""
    readings = readings_csv(document)
    return [
        Attachment(
            name="record.json",
            data=canonical(document),
            mime="application/json",
            relationship="Source",
            description="The whole record, canonical JSON (RFC 8785)",
        ),
        *_safety(document),
        Attachment(
            name="readings.csv",
            data=readings,
            mime="text/csv",
            relationship="Data",
            description="Every reading, one a row; described by datapackage.json. A "
            "text that a spreadsheet took for a formula begins with '",
        ),
        Attachment(
            name="datapackage.json",
            data=datapackage(document, readings),
            mime="application/json",
            relationship="Data",
            description="What the columns of readings.csv mean",
        ),
        Attachment(
            name="witnessmark-root.pem",
            data=root_pem.encode(),
            mime="application/x-pem-file",
            relationship="Data",
            description="The root certificate of the people's signing certificates",
        ),
    ]


def _safety(document: Doc) -> list[Attachment]:
    if "safety" not in document:
        return []
    return [
        Attachment(
            name=document["safety"]["file"],
            data=canonical(attached_safety(document)),
            mime="application/json",
            relationship="Data",
            description="Every line of the safety page, with wording, source, name, "
            "time and what was noted",
        )
    ]


def readings_csv(document: Doc) -> bytes:
    """Return every reading as CSV (RFC 4180, UTF-8), superseded ones too."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.name for column in COLUMNS])
    for card in document["cards"]:
        for reading in card["readings"]:
            writer.writerow(row_of(card, reading))
    return out.getvalue().encode()


def datapackage(document: Doc, readings: bytes) -> bytes:
    """Return the description of readings.csv as a tabular data package.

    Form: Frictionless Data Package 1, tabular profile; units as UCUM codes.
    """
    resource = {
        "profile": "tabular-data-resource",
        "name": "readings",
        "path": "readings.csv",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": len(readings),
        "hash": f"sha256:{hashlib.sha256(readings).hexdigest()}",
        "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "header": True},
        "schema": {
            "fields": [column.described() for column in COLUMNS],
            "primaryKey": "reading_id",
            "foreignKeys": [
                {
                    "fields": name,
                    "reference": {"resource": "", "fields": "reading_id"},
                }
                for name in ("supersedes", "superseded_by")
            ],
            "missingValues": [""],
        },
    }
    package = {
        "profile": "tabular-data-package",
        "name": "witnessmark-readings",
        "id": document["uid"],
        "title": f"Readings of {document['round']['title']}, lineup "
        f"{document['lineup']['name']}, {document['site']['name']}",
        "created": document["made_at"],
        "version": str(document["revision"]),
        "resources": [resource],
    }
    return (json.dumps(package, indent=2, ensure_ascii=False) + "\n").encode()
