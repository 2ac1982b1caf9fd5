"""Readings that were taken outside a standing scope, with the reason in words."""

from collections.abc import Mapping
from typing import Any

from models.record.safety import Safety
from models.record.safety_report.noted import item_words
from models.record.safety_report.told import Json, ReportCard, Told

# Each in the past: it is said of a reading that was taken. What stands in braces is a
# fact of the reason, put into words first.
WORDS = {
    "stopped": "taken after a stop, before it was known here: {by} stopped the work at "
    "{at}",
    "crew_none": "there was no crew",
    "crew_open": "{open} lines of the crew were open",
    "crew_ended": "the shift had ended at {at}",
    "crew_lapsed": "the crew had lapsed at {at}: {why}",
    "crew_not_signed_on": "who took it was not signed on to the crew",
    "isolation_none": "there was no clearance",
    "isolation_open": "{open} lines of the clearance were open",
    "isolation_lapsed": "the clearance had lapsed at {at}: {why}",
    "isolation_not_signed_on": "who took it was not signed on to the clearance",
    "isolation_ended": "the clearance was handed back at {at}",
    "point_not_entered": "the cell had not been entered",
    "point_open": "{open} lines of the cell were open",
    "point_left": "the cell had been left at {at}: {why}",
    "point_held": "the cell was held by {by} of another crew",
    "ground_off": "ground {ground} was off for {card} since {since}",
    "springs_charged": "springs were charged for {card} since {since}",
    "insulation_first": "the insulation of the same parts had not been found good",
    "density_first": "gas density of this shift was missing for {cells}",
    "test_open": "{open} lines of the card were open: {codes}",
    "asked_again": "lines were to be given again since {at} ({why}): {codes}",
}


def outside_words(told: Told, safety: Safety, card: ReportCard) -> list[dict[str, Any]]:
    """Return the readings of a card that were taken while it was closed.

    Each is `{"reading": its place in the list, "words": why, a phrase a reason}`.
    """
    found = []
    for one in safety.outside(card.id):
        reading = card.readings[one["reading"]]
        if reading.get("covered"):
            continue
        at = reading["at"]
        words = [_said(told, reason, at) for reason in one["reasons"]]
        found.append({"reading": one["reading"], "words": words})
    return found


def _said(told: Told, reason: Json, at: str) -> str:
    facts: Mapping[str, Any] = reason["facts"]
    said = {name: _fact(told, name, value, at) for name, value in facts.items()}
    return WORDS[reason["code"]].format_map(said)


def _fact(told: Told, name: str, value: Any, at: str) -> str:
    if name in ("at", "since"):
        return told.clock(value, at) if value else "an unknown time"
    if name == "why":
        return str(told.book["changes"].get(value, value))
    if name == "ground":
        return item_words(told, "ground", value)
    if name == "card":
        return told.where(value)
    if isinstance(value, list):
        return ", ".join(told.where(one) if name == "cells" else one for one in value)
    return str(value)
