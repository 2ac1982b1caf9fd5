"""Published tables and preconditions, read from TOML."""

from models.criteria.loader import load
from models.criteria.preconditions import (
    Precondition,
    disclaimer,
    load_preconditions,
)

__all__ = ["Precondition", "disclaimer", "load", "load_preconditions"]
