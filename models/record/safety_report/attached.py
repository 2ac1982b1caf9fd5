"""The file inside the package that holds every statement of the safety page."""

from collections.abc import Mapping
from typing import Any

SCHEMA = "witnessmark-safety-1"
FILE = "safety.json"


def attached_safety(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the file holds: the statements, and the record that they belong to.

    *document* is the package document, or the content that it is frozen from. The
    digest on the page is that of the canonical JSON (RFC 8785) of this value.
    """
    return {
        "schema": SCHEMA,
        "record": document["uid"],
        "revision": document["revision"],
        "statements": document["safety"]["statements"],
    }
