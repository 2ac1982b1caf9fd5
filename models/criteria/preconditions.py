"""Safety preconditions: what must be confirmed by a named person."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from models.errors import CriteriaError

PARTS = ("general", "procedure", "after")


@dataclass(frozen=True, slots=True, kw_only=True)
class Precondition:
    """One item: before any test, before this procedure's, or after the test."""

    code: str
    text: str
    source: str
    part: str


@cache
def _book() -> dict[str, Any]:
    text = files("models.criteria").joinpath("preconditions.toml").read_text("utf-8")
    return tomllib.loads(text)


@cache
def load_preconditions() -> tuple[Precondition, ...]:
    """Return every precondition in the order of the file; CriteriaError if unsound."""
    items = tuple(Precondition(**item) for item in _book()["item"])
    codes = [item.code for item in items]
    if len(set(codes)) != len(codes):
        raise CriteriaError("preconditions.toml: a code is used twice")
    for item in items:
        if item.part not in PARTS or not item.source:
            raise CriteriaError(f"preconditions.toml: {item.code} is not in order")
    return items


def disclaimer() -> str:
    """Return what is printed on every list of preconditions."""
    return str(_book()["disclaimer"])
