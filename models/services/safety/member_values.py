"""Read one member of an act strictly: the value as it is kept, or the faults."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from models.errors import Fault
from models.services.keeping.log import stamp
from models.services.keeping.texts import text_faults

LONGEST_NAME = 200  # characters of a name, a number of a clearance, a place
MOST_ITEMS = 200  # of a list
MOST_FIELDS = 40  # noted with one line
LARGEST = 1e15  # of a number that is noted; NaN and what has no end are none
LONGEST_DC_S = 7 * 24 * 3600.0  # seconds: no dc test takes a week

# Field and value as sent -> the value as kept; faults are added to the list.
Reader = Callable[[str, Any, list[Fault]], Any]


def identifier(field: str, value: Any, faults: list[Fault]) -> str | None:
    """Return an identifier in its usual form."""
    try:
        return str(UUID(str(value)))
    except ValueError:
        faults.append(Fault(field=field, message="This is not an identifier."))
        return None


def identifiers(field: str, value: Any, faults: list[Fault]) -> list[str] | None:
    """Return identifiers, each once; at least one."""
    if not isinstance(value, list) or not value or len(value) > MOST_ITEMS:
        faults.append(Fault(field=field, message="Choose at least one."))
        return None
    read = [identifier(field, one, faults) for one in value]
    return list(dict.fromkeys(one for one in read if one is not None))


def identifiers_or_none(
    field: str, value: Any, faults: list[Fault]
) -> list[str] | None:
    """Return identifiers, or None for the whole."""
    return None if value is None else identifiers(field, value, faults)


def identifier_or_none(field: str, value: Any, faults: list[Fault]) -> str | None:
    """Return an identifier, or None."""
    return None if value is None else identifier(field, value, faults)


def name(field: str, value: Any, faults: list[Fault]) -> str:
    """Return a short text that must be there."""
    found = text_faults(field, value, "this")
    if not found and len(value.strip()) > LONGEST_NAME:
        message = f"Keep it under {LONGEST_NAME} characters."
        found = [Fault(field=field, message=message)]
    faults.extend(found)
    return "" if found else str(value).strip()


def name_or_none(field: str, value: Any, faults: list[Fault]) -> str | None:
    """Return a short text, or None."""
    return None if value in (None, "") else name(field, value, faults)


def sentence(field: str, value: Any, faults: list[Fault]) -> str:
    """Return a text that must be there."""
    found = text_faults(field, value, "why, in words")
    faults.extend(found)
    return "" if found else str(value).strip()


def sentence_or_none(field: str, value: Any, faults: list[Fault]) -> str | None:
    """Return a text, or None."""
    return None if value in (None, "") else sentence(field, value, faults)


def sentence_or_blank(field: str, value: Any, faults: list[Fault]) -> str:
    """Return a text, "" where there is none."""
    return "" if value in (None, "") else sentence(field, value, faults)


def names(field: str, value: Any, faults: list[Fault]) -> list[str]:
    """Return names, each once; none is allowed here."""
    if not isinstance(value, list) or len(value) > MOST_ITEMS:
        faults.append(Fault(field=field, message="Give the names as a list."))
        return []
    return list(dict.fromkeys(name(field, one, faults) for one in value))


def time(field: str, value: Any, faults: list[Fault]) -> str | None:
    """Return a time in UTC."""
    try:
        at = datetime.fromisoformat(str(value))
        if at.tzinfo is not None:
            return stamp(at.astimezone(UTC))
    except (ValueError, OverflowError):
        pass
    message = "Give date and time with the zone's offset."
    faults.append(Fault(field=field, message=message))
    return None


def yes_or_no(field: str, value: Any, faults: list[Fault]) -> bool:
    """Return a yes or no."""
    if not isinstance(value, bool):
        faults.append(Fault(field=field, message="Say yes or no."))
    return value is True


def seconds(field: str, value: Any, faults: list[Fault]) -> float | None:
    """Return a duration in seconds."""
    real = isinstance(value, int | float) and not isinstance(value, bool)
    if not real or not 0 <= value <= LONGEST_DC_S:  # nor is it NaN then
        message = "Give the seconds, from 0 to a week."
        faults.append(Fault(field=field, message=message))
        return None
    return float(value)


def one_of(*words: str) -> Reader:
    """Return a reader of one of *words*."""

    def read(field: str, value: Any, faults: list[Fault]) -> str | None:
        if not isinstance(value, str) or value not in words:
            said = f"'{value}' is none of {', '.join(words)}."
            faults.append(Fault(field=field, message=said))
            return None
        return value

    return read


def names_by_cell(field: str, value: Any, faults: list[Fault]) -> dict[str, str]:
    """Return who stays at which cell: {cell: name}."""
    if not isinstance(value, dict) or len(value) > MOST_ITEMS:
        faults.append(Fault(field=field, message="Give a name for each cell."))
        return {}
    return {
        cell: name(f"{field}.{key}", who, faults)
        for key, who in value.items()
        if (cell := identifier(f"{field}.{key}", key, faults)) is not None
    }


def noted(field: str, value: Any, faults: list[Fault]) -> dict[str, Any]:
    """Return what stands in fields; blank ones are left out."""
    if not isinstance(value, dict) or len(value) > MOST_FIELDS:
        faults.append(Fault(field=field, message="Give what is noted by field."))
        return {}
    return {
        key: _plain(f"{field}.{key}", one, faults)
        for key, one in value.items()
        if one not in (None, "", [])
    }


def person(field: str, value: Any, faults: list[Fault]) -> dict[str, Any] | None:
    """Return a person: {id or null, name}."""
    if not isinstance(value, dict) or not set(value) <= {"id", "name"}:
        faults.append(Fault(field=field, message="Name the person."))
        return None
    return {
        "id": identifier_or_none(f"{field}.id", value.get("id"), faults),
        "name": name(f"{field}.name", value.get("name"), faults),
    }


def _plain(field: str, value: Any, faults: list[Fault]) -> Any:
    """Return a noted value: text, number, yes or no, person, or a list of such."""
    if isinstance(value, list):
        if len(value) > MOST_ITEMS:
            message = f"Name at most {MOST_ITEMS}."
            faults.append(Fault(field=field, message=message))
            return None
        return [_plain(field, one, faults) for one in value]
    if isinstance(value, dict):
        return person(field, value, faults)
    if isinstance(value, str):
        return sentence(field, value, faults)
    if isinstance(value, bool):
        return value
    if isinstance(value, int | float) and -LARGEST <= value <= LARGEST:
        return value
    faults.append(Fault(field=field, message="Give a text or a number."))
    return None
