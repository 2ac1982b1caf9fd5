"""What a tablet says about itself, checked."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from models.errors import Fault, InputError
from models.services.keeping.texts import storable

LONGEST = {"label": 80, "program": 80, "browser": 300}  # characters


def known_words(said: Mapping[str, Any]) -> tuple[str, ...]:
    """Return label, program and browser as they are kept; InputError where not text."""
    words = {name: said.get(name, "") for name in LONGEST}
    faults = [
        Fault(field=name, message="This is no text that can be kept.")
        for name, value in words.items()
        if not isinstance(value, str) or not storable(value)
    ]
    if faults:
        raise InputError(*faults)
    return tuple(words[name].strip()[:most] for name, most in LONGEST.items())


def tablet_id(said: Mapping[str, Any]) -> UUID:
    """Return the id that the tablet gives itself; InputError where there is none."""
    try:
        return UUID(str(said.get("tablet")))
    except ValueError as error:
        raise InputError(
            Fault(field="tablet", message="Say which tablet this is, by its id.")
        ) from error


def said_time(said: Mapping[str, Any], name: str) -> datetime | None:
    """Return a time with its zone, None where none is said; InputError else."""
    value = said.get(name)
    if value is None:
        return None
    try:
        at = datetime.fromisoformat(str(value))
    except ValueError:
        at = None
    if at is None or at.tzinfo is None:
        raise InputError(Fault(field=name, message="This is no time with its zone."))
    return at
