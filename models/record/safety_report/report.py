"""The whole: from the acts of a round to the page that is printed of them."""

from typing import Any

from models.record.safety import Safety
from models.record.safety_report.attached import FILE
from models.record.safety_report.card_rows import cards_row
from models.record.safety_report.exceptions import exceptions
from models.record.safety_report.statements import statements
from models.record.safety_report.told import ReportCard, Told
from models.record.safety_report.wide_rows import cell_rows, clearance_rows, crew_rows
from models.record.shapes.safety_report import SafetyReport


def safety_report(told: Told, safety: Safety, at: str) -> SafetyReport:
    """Return what the page says as all acts have it at a moment, without a digest.

    The digest is that of the attached file, which is made of the report: whoever
    freezes the document sets it.
    """
    site: Any = safety.site(at)
    outside = {card.id: outside_words(safety, card) for card in told.cards}
    said = statements(told)
    settings = told.book["settings"]

    def after_stands(card: ReportCard) -> bool:
        return card_after_stands(safety, card, at)

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
