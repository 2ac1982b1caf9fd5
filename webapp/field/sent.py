"""What a tablet sends: JSON, and the envelope around entries."""

from collections.abc import Mapping
from typing import Any

from flask import request

from models.errors import Fault, InputError
from models.services.keeping.texts import storable

MOST_ENTRIES = 500  # in one call; a longer outbox is sent in parts
LONGEST_DEVICE = 80  # characters of the tablet's name


def read_body() -> Any:
    """Return the request's JSON; None where it is none, or nested without end."""
    try:
        return request.get_json(silent=True)
    except RecursionError:
        return None


def read_envelope(body: Any) -> tuple[str, list[Mapping[str, Any]]]:
    """Return the device's name and the entries as they came.

    Raises InputError when this is no envelope at all; what is wrong with one
    entry is said of that entry.
    """
    if not isinstance(body, dict) or not isinstance(body.get("entries"), list):
        raise _fault("entries", "Send a JSON object with a list of entries.")
    sent = body["entries"]
    if len(sent) > MOST_ENTRIES:
        raise _fault("entries", f"Send at most {MOST_ENTRIES} entries at a time.")
    if not all(isinstance(entry, dict) for entry in sent):
        raise _fault("entries", "Each entry is a JSON object.")
    device = body.get("device")
    if not isinstance(device, str) or not device.strip() or not storable(device):
        raise _fault("device", "Say which tablet sends this.")
    return device.strip()[:LONGEST_DEVICE], sent


def _fault(field: str, message: str) -> InputError:
    return InputError(Fault(field=field, message=message))
