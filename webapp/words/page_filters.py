"""Filters for templates: times in the site's zone, numbers for people."""

import re
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask import Flask

from models.record.values import DECISIONS, SEVERITIES
from models.services.people.access import acting_role
from models.services.setup.nameplate import GEAR_NAMES
from models.words import in_sentence
from webapp.looked_for import page_address
from webapp.words.reading_globals import init_reading_words

WHOLE_FROM = 9.95  # percent, from which a change is said without a decimal


def local_time(value: datetime | str | None, zone: str) -> str:
    """Return a time in *zone*, such as '25 Nov 2026 09:18'."""
    if value is None:
        return "–"
    at = datetime.fromisoformat(value) if isinstance(value, str) else value
    local = at.astimezone(ZoneInfo(zone))
    return f"{local.day} {local:%b %Y %H:%M}"


def local_clock(value: datetime | str | None, zone: str) -> str:
    """Return a time in *zone* without its year, such as '25 Nov 09:18'."""
    if value is None:
        return "–"
    at = datetime.fromisoformat(value) if isinstance(value, str) else value
    local = at.astimezone(ZoneInfo(zone))
    return f"{local.day} {local:%b %H:%M}"


def local_day(value: datetime | date | str | None, zone: str = "UTC") -> str:
    """Return a day, such as '25 Nov 2026'."""
    if value is None:
        return "–"
    at = datetime.fromisoformat(value) if isinstance(value, str) else value
    if isinstance(at, datetime) and at.tzinfo is not None:
        at = at.astimezone(ZoneInfo(zone))
    return f"{at.day} {at:%b %Y}"


def figure(value: float | None, digits: int = 3) -> str:
    """Return a number with *digits* significant digits; a dash for none."""
    if value is None:
        return "–"
    shown = f"{value:.{digits}g}"
    return f"{float(shown):,.0f}".replace(",", " ") if "e" in shown else shown


def percent(value: float | None) -> str:
    """Return a change with its sign, such as +12 %, with a real minus."""
    if value is None:
        return "–"
    digits = 0 if abs(value) >= WHOLE_FROM else 1
    return f"{value:+.{digits}f} %".replace("-", "−")


def tied(text: str) -> str:
    """Return *text* with each number tied to its unit, so that no line ends there."""
    return re.sub(r"(?<=\d) (?=[A-Za-zµΩ°%])", "\u00a0", text)


def performing_role(person: Any) -> str:
    """Return the role under which a person performs tests."""
    return acting_role(person, "record")


def init_page_words(app: Flask) -> None:
    """Make the filters known to templates."""
    app.add_template_filter(local_time)
    app.add_template_filter(local_clock)
    app.add_template_global(page_address)
    app.add_template_filter(local_day)
    app.add_template_filter(figure)
    app.add_template_filter(percent)
    app.add_template_filter(tied)
    app.add_template_filter(performing_role)
    app.add_template_filter(in_sentence)
    init_reading_words(app)
    app.context_processor(
        lambda: {
            "GEAR_NAMES": GEAR_NAMES,
            "DECISIONS": DECISIONS,
            "SEVERITIES": SEVERITIES,
        }
    )
