"""Turnover: the commissioning lead's rounds, gate, cards and packages."""

from webapp.turnover import (
    agreement_routes,
    card_routes,
    criteria_routes,
    dispose_routes,
    edition_routes,
    field_sheet_routes,
    finding_routes,
    inspection_routes,
    list_routes,
    package_routes,
    rejudge_routes,
    safety_routes,
    safety_sheet_routes,
    tablet_routes,
    unsent_file_routes,
)
from webapp.turnover.routes import bp

__all__ = [
    "agreement_routes",
    "bp",
    "card_routes",
    "criteria_routes",
    "dispose_routes",
    "edition_routes",
    "field_sheet_routes",
    "finding_routes",
    "inspection_routes",
    "list_routes",
    "package_routes",
    "rejudge_routes",
    "safety_routes",
    "safety_sheet_routes",
    "tablet_routes",
    "unsent_file_routes",
]
