"""Times of a document, which are UTC, as people at the site read them."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

# Not from the locale: the same document gives the same bytes everywhere.
MONTHS = (
    "Jan",
    "Feb",
    "Mar",
    "Apr",
    "May",
    "Jun",
    "Jul",
    "Aug",
    "Sep",
    "Oct",
    "Nov",
    "Dec",
)


def day(value: str | None) -> str:
    """Return a plain date such as 3 Mar 2026; a dash for none."""
    if not value:
        return "–"
    return _day(datetime.fromisoformat(value))


def at(value: str | None, zone: str) -> str:
    """Return a time at the site, such as 25 Nov 2026 09:18; a dash for none."""
    if not value:
        return "–"
    local = datetime.fromisoformat(value).astimezone(ZoneInfo(zone))
    return f"{_day(local)} {local:%H:%M}"


def span(values: Iterable[str], zone: str) -> str:
    """Return from when to when; the second day only where it differs."""
    times = sorted(datetime.fromisoformat(v).astimezone(ZoneInfo(zone)) for v in values)
    if not times:
        return "–"
    first, last = times[0], times[-1]
    if f"{first:%Y%m%d%H%M}" == f"{last:%Y%m%d%H%M}":
        return f"{_day(first)} {first:%H:%M}"
    if first.date() == last.date():
        return f"{_day(first)} {first:%H:%M} to {last:%H:%M}"
    return f"{_day(first)} {first:%H:%M} to {_day(last)} {last:%H:%M}"


def short(value: str | None, zone: str) -> str:
    """Return a time without its year, such as 25 Nov 09:18; a dash for none."""
    if not value:
        return "–"
    local = _local(value, zone)
    return f"{local.day} {MONTHS[local.month - 1]} {local:%H:%M}"


def short_span(first: str, last: str | None, zone: str) -> str:
    """Return from when to when, the second day only where it differs.

    What has not ended: since 25 Nov 07:05.
    """
    if last is None:
        return f"since {short(first, zone)}"
    same = _local(first, zone).date() == _local(last, zone).date()
    end = f"{_local(last, zone):%H:%M}" if same else short(last, zone)
    return f"{short(first, zone)}–{end}"


def short_list(values: Iterable[str], zone: str) -> str:
    """Return times one after the other, the day only where it is another."""
    said, day_before = [], None
    for value in sorted(values, key=datetime.fromisoformat):
        local = _local(value, zone)
        said.append(
            f"{local:%H:%M}" if local.date() == day_before else short(value, zone)
        )
        day_before = local.date()
    return ", ".join(said)


def _local(value: str, zone: str) -> datetime:
    return datetime.fromisoformat(value).astimezone(ZoneInfo(zone))


def _day(value: datetime) -> str:
    return f"{value.day} {MONTHS[value.month - 1]} {value.year}"
