"""JSON that is stored in many rows: its texts are made once."""

import json
from functools import cached_property
from typing import Any

_STORED = json.JSONEncoder()
_CANONICAL = json.JSONEncoder(sort_keys=True, ensure_ascii=False, separators=(",", ":"))


class Written(dict[str, Any]):
    """An object of JSON that keeps its texts; it is not to be changed any more."""

    @cached_property
    def text(self) -> str:
        """Return it as text, as any other object would be stored."""
        return _STORED.encode(self)

    @cached_property
    def canonical(self) -> str:
        """Return the one text that digests are taken over."""
        return _CANONICAL.encode(self)


def write(value: Any) -> str:
    """Return *value* as the text that is stored."""
    return value.text if isinstance(value, Written) else _STORED.encode(value)


def canonical(value: Any) -> str:
    """Return *value* as the one text that digests are taken over."""
    if isinstance(value, Written):
        return value.canonical
    return _CANONICAL.encode(value)
