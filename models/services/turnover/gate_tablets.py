"""What the gate says of tablets that took the round along."""

from sqlalchemy.orm import Session

from models.schema import Round
from models.services.tablets.said import held_words, release_sentence
from models.services.tablets.waited_for import releases_of_round, waited_for
from models.services.turnover.gate_lines import GateItem, GateLine, count


def tablets_to_settle(session: Session, round_: Round) -> list[GateLine]:
    """Return what blocks turnover: tablets that may hold what is not sent yet."""
    if round_.state != "open":
        return []
    zone = round_.lineup.site.zone
    items = [
        GateItem(
            text=f"{one.tablet.label} · {one.person.name}",
            detail=held_words(one, zone),
            action="Open tablets",
            target_kind="tablet",
            target_id=one.tablet_id,
        )
        for one in waited_for(session, round_.id)
    ]
    verb = "has" if len(items) == 1 else "have"
    text = f"{count(items, 'tablet')} that {verb} not given the round back"
    line = GateLine(code="tablets", mark="open", text=text, items=items)
    return [line] if items else []


def tablets_listed(session: Session, round_: Round) -> list[GateLine]:
    """Return the tablets that a lead did not wait for."""
    zone = round_.lineup.site.zone
    items = [
        GateItem(
            text=act.tablet.label,
            detail=release_sentence(act, zone),
            action="Open tablets",
            target_kind="tablet",
            target_id=act.tablet_id,
        )
        for act in releases_of_round(session, round_.id)
    ]
    text = f"{count(items, 'tablet')} not waited for"
    line = GateLine(code="tablets_released", mark="done", text=text, items=items)
    return [line] if items else []
