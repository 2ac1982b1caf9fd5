"""Names that a field had once, in rounds and readings of before."""

from collections.abc import Collection, Mapping

# A withstand's temperature was that of the air; now it is that of what was tested.
ONCE: Mapping[str, str] = {"temperature_c": "air_temperature_c"}


def name_now(name: str, asked: Collection[str]) -> str:
    """Return what *name* is called now, *asked* being the fields that are asked for."""
    now = ONCE.get(name, name)
    return now if name not in asked and now in asked else name
