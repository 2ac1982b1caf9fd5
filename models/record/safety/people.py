"""Who says an act, and the key by which a person is told from another."""

from collections.abc import Mapping
from typing import Any

Json = Mapping[str, Any]


def person_key(person: Json | str | None) -> str | None:
    """Return a person's id, or 'name:' and their name in lower case without one."""
    if person is None or isinstance(person, str):
        return person
    if person.get("id"):
        return str(person["id"])
    name = " ".join(str(person.get("name") or "").split()).lower()
    return f"name:{name}" if name else None


def speaker(act: Json) -> Json:
    """Return who says it: on a crew's one tablet often not the one who signed in."""
    person: Json = act.get("person") or act["by"]
    return person


def speaker_key(act: Json) -> str:
    """Return the key of who says it."""
    return person_key(speaker(act)) or ""


def keys_named(noted: Json) -> set[str]:
    """Return the keys of all people that are named in what was noted."""
    found = set()
    for value in noted.values():
        for one in value if isinstance(value, list) else [value]:
            if isinstance(one, Mapping) and (key := person_key(one)):
                found.add(key)
    return found


def people_noted(noted: Json, field: str) -> list[Json]:
    """Return the people of a field, one or several; what is no person is left out."""
    value = noted.get(field)
    several = value if isinstance(value, list) else [value]
    return [one for one in several if isinstance(one, Mapping) and one.get("name")]
