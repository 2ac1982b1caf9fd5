"""The JSON Schema of a table's rows, worked out from the table itself."""

from typing import Any

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Date,
    DateTime,
    Float,
    Integer,
    Uuid,
)

from models.record.shapes.json_schema import DIALECT
from models.schema.base import UTCDateTime
from models.services.export import tables

KINDS: tuple[tuple[type[Any], dict[str, Any]], ...] = (
    (Boolean, {"type": "boolean"}),
    (Integer, {"type": "integer"}),
    (Float, {"type": "number"}),
    (UTCDateTime, {"type": "string", "format": "date-time"}),
    (DateTime, {"type": "string", "format": "date-time"}),
    (Date, {"type": "string", "format": "date"}),
    (Uuid, {"type": "string", "format": "uuid"}),
    (JSON, {}),
)


def row_schema(name: str) -> dict[str, Any]:
    """Return the schema of the list of a table's rows."""
    wanted = tables.columns(name)
    return {
        "$schema": DIALECT,
        "title": name,
        "description": _first_line(name),
        "type": "array",
        "items": {
            "type": "object",
            "properties": {column.name: _kind(column) for column in wanted},
            "required": [column.name for column in wanted],
            "additionalProperties": False,
        },
    }


def _kind(column: Column[Any]) -> dict[str, Any]:
    said = next((s for t, s in KINDS if isinstance(column.type, t)), {"type": "string"})
    if not said:
        return {}
    about = dict(said)
    if column.nullable:
        about["type"] = [said["type"], "null"]
    for found in column.foreign_keys:
        about["description"] = f"{found.column.name} of {found.column.table.name}"
    return about


def _first_line(name: str) -> str:
    """Return what the mapping of the table says that a row is."""
    for mapper in tables.mappers():
        if mapper.local_table is tables.table(name):
            return (mapper.class_.__doc__ or "").strip().partition("\n")[0]
    return ""
