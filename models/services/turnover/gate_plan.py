"""What the plan of a round left out, added and changed, as lines of its gate."""

from models.schema import Round
from models.services.planning.changes import ChangeSaid, changes_of
from models.services.turnover.gate_lines import GateItem, GateLine, count
from models.words import in_sentence

SAID = {
    "left_out": ("card of the programme left out", "cards of the programme left out"),
    "added": ("card added to the programme", "cards added to the programme"),
    "points": ("card with other points", "cards with other points"),
}


def plan_lines(round_: Round) -> list[GateLine]:
    """Return a line for each kind of change that was made, with the reasons."""
    found = changes_of(round_)
    lines = []
    for what, (one, many) in SAID.items():
        items = [_item(round_, change) for change in found if change.what == what]
        if items:
            text = count(items, one, many)
            lines.append(GateLine(code=what, mark="done", text=text, items=items))
    return lines


def _item(round_: Round, change: ChangeSaid) -> GateItem:
    return GateItem(
        text=f"{change.where} · {in_sentence(change.title)}",
        detail=f"{change.reason} ({change.by})",
        action="Show card" if change.card_id else "Schedule",
        target_kind="card" if change.card_id else "schedule",
        target_id=change.card_id or round_.id,
    )
