"""The whole: from the acts of a round to the page that is printed of them."""

from typing import Any

from models.record.safety import Safety
from models.record.safety_report.attached import FILE
from models.record.safety_report.card_rows import card_safety, cards_row
from models.record.safety_report.exceptions import exceptions
from models.record.safety_report.outside import outside_words
from models.record.safety_report.statements import statements
from models.record.safety_report.told import ReportCard, Told
from models.record.safety_report.wide_rows import cell_rows, clearance_rows, crew_rows
from models.record.shapes.safety_report import CardSafety, SafetyReport


def safety_report(told: Told, safety: Safety) -> SafetyReport:
    """Return what the page says as all acts have it now, without a digest.

    The digest is that of the attached file, which is made of the report: whoever
    freezes the document sets it.
    """
    at = told.now
    site: Any = safety.site(at)
    outside = {card.id: outside_words(told, safety, card) for card in told.cards}
    said = statements(told)
    settings = told.book["settings"]

    def after_stands(card: ReportCard) -> bool:
        after = safety.card(card.id, "", at)["after"]
        return after["state"] == "stands" or not after["lines"]

    return {
        "rule_set": settings["rule_set"],
        "rule_set_text": settings["rule_set_text"],
        "governs": told.book["governs"],
        "crews": crew_rows(told, site),
        "clearances": clearance_rows(told, site),
        "cells": cell_rows(told),
        "cards": cards_row(told, outside, after_stands),
        "exceptions": exceptions(told, safety, site, outside),
        "lines": sum(one["act"] == "line" for one in said),
        "file": FILE,
        "digest": "",
        "statements": said,
    }


def cards_safety(told: Told, safety: Safety) -> dict[str, CardSafety]:
    """Return the one line of each card that has lines or readings, by card."""
    crews = safety.site(told.now)["crews"]
    said = {card.id: card_safety(told, card, crews) for card in told.cards}
    return {
        card.id: said[card.id]
        for card in told.cards
        if card.by_scopes or said[card.id]["before"] or said[card.id]["after"]
    }
