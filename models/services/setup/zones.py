"""The time zones that a site can be in."""

from collections.abc import Mapping, Sequence
from functools import cache
from zoneinfo import available_timezones

REGIONS = (
    "Africa",
    "America",
    "Antarctica",
    "Arctic",
    "Asia",
    "Atlantic",
    "Australia",
    "Europe",
    "Indian",
    "Pacific",
)
NO_REGION = "UTC"


@cache
def zones() -> Mapping[str, Sequence[str]]:
    """Return the IANA names by region; the last is UTC, for a ship or a far platform.

    Old names for a country (`Cuba`) are left out: each has one by its city.
    """
    known = available_timezones()
    found = {
        region: sorted(name for name in known if name.startswith(f"{region}/"))
        for region in REGIONS
    }
    return {**found, NO_REGION: ["UTC"]}
