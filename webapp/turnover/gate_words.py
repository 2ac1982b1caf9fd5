"""The gate in words, and where each of its lines leads."""

from typing import Any

from flask import url_for

from models.services.turnover.gate import Gate
from models.services.turnover.gate_lines import GateItem, GateLine

WORDS = (
    "nothing",
    "one thing",
    "two things",
    "three things",
    "four things",
    "five things",
    "six things",
    "seven things",
    "eight things",
    "nine things",
)
UNDISPOSED = "undisposed_"
# Settled by a new reading, or only listed: the link leads to the card.
TO_REPEAT = ("rejected", "calibration", "before_release", "safety_outside")


def headline(gate: Gate) -> str:
    """Return the sentence at the head of the gate."""
    if gate.state != "open":
        return f"{gate.title} is turned over"
    count = len(gate.still)
    if gate.may_sign and count == 1:
        return "Nothing is left but signatures: yours is the next"
    if gate.ready and count:
        return "Nothing is left but signatures"
    if not count:
        return "Nothing stands between this round and its turnover"
    said = WORDS[count]
    verb = "stands" if count == 1 else "stand"
    return f"{said.capitalize()} {verb} between this round and its turnover"


def several_link(gate: Gate, line: GateLine) -> str:
    """Return the page where all of *line* are decided on at once, or empty."""
    if len(line.items) < 2 or not line.code.startswith(UNDISPOSED):
        return ""
    verdict = line.code.removeprefix(UNDISPOSED)
    return url_for("turnover.ask_several", round_id=gate.round_id, verdict=verdict)


# Where a thing of the gate is settled: kind -> page and the name of its argument.
PAGES = {
    "agreement": ("turnover.agreement", "subject_id"),
    "nameplates": ("gear.plates", "lineup_id"),
    "apparatus": ("gear.thing", "apparatus_id"),
    "inspection": ("turnover.inspection", "point_id"),
    "deficiency": ("turnover.deficiency", "deficiency_id"),
    "safety": ("turnover.safety", "round_id"),
    "package": ("turnover.package", "round_id"),
}


def link_of(line: GateLine, item: GateItem) -> str:
    """Return the page where *item* is settled."""
    key = item.target_id
    if item.target_kind == "reading":
        if line.code in TO_REPEAT:
            return url_for("turnover.card_of_reading", reading_id=key)
        return url_for("turnover.dispose_reading", reading_id=key)
    if item.target_kind == "tablet":
        return url_for("turnover.tablets", _anchor=f"tablet-{key}")
    if item.target_kind == "schedule":
        return url_for("turnover.cards", round_id=key, _anchor="plan")
    page, name = PAGES.get(item.target_kind, ("turnover.card", "card_id"))
    named: dict[str, Any] = {name: key}
    return url_for(page, **named)
