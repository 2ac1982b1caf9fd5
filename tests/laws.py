"""How many made-up cases the laws take: fewer at every run, all when thorough."""

import os

from hypothesis import HealthCheck, settings

PROFILE = os.environ.get("WITNESSMARK_LAWS", "house")
THOROUGH = PROFILE == "thorough"


def costly(
    thorough: int, *, house: int, allowed: tuple[HealthCheck, ...] = ()
) -> settings:
    """Return the settings of a law whose cases cost more than most, or are many."""
    return settings(
        max_examples=thorough if THOROUGH else house, suppress_health_check=allowed
    )
