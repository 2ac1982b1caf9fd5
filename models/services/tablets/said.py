"""What is said of a tablet's round, and of a release from waiting for it."""

from datetime import datetime
from zoneinfo import ZoneInfo

from models.schema import TabletAct, TabletRound

PARTS = (
    ("entries", "entry", "entries"),
    ("photos", "photograph", "photographs"),
    ("intents", "signature that waits", "signatures that wait"),
)


def unsent_words(held: TabletRound) -> str:
    """Return '3 entries and 1 photograph', or 'nothing'."""
    found = [(getattr(held, name), one, many) for name, one, many in PARTS]
    said = [f"{n} {one if n == 1 else many}" for n, one, many in found if n]
    if not said:
        return "nothing"
    *first, last = said
    return f"{', '.join(first)} and {last}" if first else last


def at_site(at: datetime, zone: str) -> str:
    """Return day and time of the site."""
    return at.astimezone(ZoneInfo(zone)).strftime("%Y-%m-%d %H:%M")


def held_words(held: TabletRound, zone: str) -> str:
    """Return since when a tablet holds the round, and what is unsent as last told."""
    return (
        f"Taken along {at_site(held.taken_at, zone)}; unsent as last told at "
        f"{at_site(held.told_at, zone)}: {unsent_words(held)}"
    )


def release_sentence(act: TabletAct, zone: str) -> str:
    """Return the sentence that gate and package print of a release."""
    return (
        f"{act.by.name} did not wait for {act.tablet.label}, which had taken the round "
        f"along ({at_site(act.at, zone)}): {act.reason}"
    )
