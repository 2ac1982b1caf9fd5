"""What a tablet sends: JSON, and the envelope around entries."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import request

from models.errors import Fault, InputError
from models.services.keeping.texts import storable

MOST_ENTRIES = 500  # in one call; a longer outbox is sent in parts
LONGEST_DEVICE = 80  # characters of the tablet's name, and of its program's version


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """An envelope; a version before said nothing but the device and the entries."""

    device: str
    entries: list[Mapping[str, Any]]
    tablet: UUID | None = None
    person: UUID | None = None  # who recorded them
    program: str | None = None
    left: Mapping[str, Any] | None = None  # what the tablet holds beside these


def read_body() -> Any:
    """Return the request's JSON; None where it is none, or nested without end."""
    try:
        return request.get_json(silent=True)
    except RecursionError:
        return None


def read_envelope(body: Any) -> Sent:
    """Return the envelope, with the entries as they came.

    Raises InputError when this is no envelope at all; what is wrong with one
    entry is said of that entry.
    """
    if not isinstance(body, dict) or not isinstance(body.get("entries"), list):
        raise _fault("entries", "Send a JSON object with a list of entries.")
    entries = body["entries"]
    if len(entries) > MOST_ENTRIES:
        raise _fault("entries", f"Send at most {MOST_ENTRIES} entries at a time.")
    if not all(isinstance(entry, dict) for entry in entries):
        raise _fault("entries", "Each entry is a JSON object.")
    device = _text(body, "device")
    if device is None:
        raise _fault("device", "Say which tablet sends this.")
    left = body.get("left")
    if left is not None and not isinstance(left, dict):
        raise _fault("left", "Say what is left as a JSON object.")
    return Sent(
        device=device,
        entries=entries,
        tablet=_id(body, "tablet"),
        person=_id(body, "person"),
        program=_text(body, "program"),
        left=left,
    )


def _text(body: Mapping[str, Any], name: str) -> str | None:
    value = body.get(name)
    if not isinstance(value, str) or not value.strip() or not storable(value):
        return None
    return value.strip()[:LONGEST_DEVICE]


def _id(body: Mapping[str, Any], name: str) -> UUID | None:
    if body.get(name) is None:
        return None
    try:
        return UUID(str(body[name]))
    except ValueError:
        raise _fault(name, "This is not an identifier.") from None


def _fault(field: str, message: str) -> InputError:
    return InputError(Fault(field=field, message=message))
