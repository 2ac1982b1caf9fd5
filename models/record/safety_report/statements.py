"""Every act of a round as a statement: with wording, source, name, time and notes."""

from typing import Any

from models.record.safety_report.noted import fields_words, item_words, noted_words
from models.record.safety_report.told import Json, Told, about, who
from models.record.shapes.safety_report import SafetyStatement

# What every act has, and what has a member of its own in a statement.
SAID_ELSEWHERE = frozenset(
    ("id", "at", "arrived_at", "device", "by", "person", "act", "scope", "of", "code")
) | {"item", "state", "reason", "noted"}


def statements(told: Told) -> list[SafetyStatement]:
    """Return the acts of the round in order of time."""
    return [_statement(told, act) for act in told.acts]


def _statement(told: Told, act: Json) -> SafetyStatement:
    line = told.book["lines"].get(act.get("code"), {})
    said_by = who(act)["name"]
    by = act["by"]["name"]
    noted = act.get("noted")
    if noted is None:
        noted = {k: v for k, v in act.items() if k not in SAID_ELSEWHERE}
    return {
        "id": act["id"],
        "act": act["act"],
        "scope": act.get("scope") or "",
        "of": about(act),
        "where": told.where(about(act)),
        "code": act.get("code") or "",
        "text": line.get("text", ""),
        "source": line.get("source", ""),
        "item": _item(told, act, line),
        "state": act.get("state") or "",
        "reason": act.get("reason") or "",
        "noted": noted,
        "said": _said(told, act, noted),
        "by": said_by,
        "on": by if by != said_by else "",
        "device": act["device"],
        "at": act["at"],
        "arrived_at": act.get("arrived_at") or "",
    }


def _said(told: Told, act: Json, noted: dict[str, Any]) -> list[list[str]]:
    if act["act"] == "list":
        return [["item", fields_words(told, act["register"], act["fields"])]]
    return noted_words(told, noted, act["at"])


def _item(told: Told, act: Json, line: Json) -> str:
    """Return the item of a register, the lineup, cell or person that it is about."""
    item = act.get("item")
    if "person" in line.get("each", ()):
        return str(who(act)["name"])
    if not item:
        return ""
    if item in told.cells:
        return told.where(item)
    if item in told.book["lineups"]:
        return str(told.book["lineups"][item]["name"])
    registers = [act["register"]] if act["act"] == "list" else told.book["registers"]
    words = (item_words(told, register, item) for register in registers)
    return next((said for said in words if said != item), item)
