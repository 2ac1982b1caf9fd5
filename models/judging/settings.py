"""A relay's settings: which of them no relay can have."""

from models.judging.values import LARGEST
from models.words import say

LARGEST_MULTIPLE = 1e6  # of pickup; nothing that is injected comes near it


def setting_problem(value: float | None) -> str | None:
    """Return in one word why *value* is no pickup and no time dial; else None."""
    if value is None:
        return "unknown"
    if not value > 0:
        return "not_above_zero"
    return None if value < LARGEST else "out_of_proportion"


def setting_fault(setting: str, value: float | None) -> str | None:
    """Return the sentence for `setting_problem`, of the setting with this name."""
    problem = setting_problem(value)
    if problem is None:
        return None
    return say(f"setting.{problem}", setting=say(f"setting.{setting}"))
