"""The JSON Schema of an entry of the log, as log.jsonl has it."""

from typing import Any

from models.record.shapes.json_schema import DIALECT

LOG_SCHEMA: dict[str, Any] = {
    "$schema": DIALECT,
    "title": "log entry",
    "description": "One line of log.jsonl. Its hash is taken over the hash of the "
    "entry before and the canonical JSON (RFC 8785) of the entry without `previous` "
    "and `hash`.",
    "type": "object",
    "properties": {
        "seq": {"type": "integer"},
        "at": {"type": "string", "format": "date-time"},
        "actor": {"type": ["string", "null"], "description": "id of person"},
        "action": {"type": "string"},
        "subject": {"type": "string"},
        "body": {"type": "object"},
        "previous": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
        "hash": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
    },
    "required": [
        *("seq", "at", "actor", "action", "subject", "body", "previous", "hash")
    ],
    "additionalProperties": False,
}
