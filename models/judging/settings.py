"""A relay's settings: which of them no relay can have."""

from models.judging.values import LARGEST

LARGEST_MULTIPLE = 1e6  # of pickup; nothing that is injected comes near it


def setting_fault(what: str, value: float | None) -> str | None:
    """Return why *value* is no pickup and no time dial; None where it may be one."""
    if value is None:
        return f"{what} is not known."
    if not value > 0:
        return f"{what} is not above zero."
    if not value < LARGEST:
        return f"{what} is out of all proportion."
    return None
