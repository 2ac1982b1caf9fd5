"""Whether a card is open for a reading: by the earlier list, or by its scopes."""

from collections.abc import Mapping
from typing import Any

from models.errors import Fault, InputError
from models.schema import Person
from models.services.field.card_facts import CardFacts, before_codes
from models.services.field.entry import Entry
from models.services.safety.arriving import Arriving
from models.services.safety.read_act import heard


def require_open_card(
    facts: CardFacts, person: Person, entry: Entry, arriving: Arriving
) -> None:
    """Raise InputError, with every reason, where a card is closed for a reading.

    On a round that goes by the earlier list it is open once the list was answered;
    where it was not, the scopes are asked if anybody used them.
    """
    missing = _missing(facts)
    if facts.listed and not missing:
        return
    faults: list[Fault] = []
    heard_at = heard(entry.raw, faults)
    if faults:
        raise InputError(*faults)
    if missing and not arriving.any_acts:
        raise InputError(_list_open(missing))
    faults = arriving.reading_faults(
        facts.card, person.id, entry.at, _conditions(facts, entry), heard_at
    )
    if faults:
        raise InputError(*([_list_open(missing)] if missing else []), *faults)


def _missing(facts: CardFacts) -> list[str]:
    if not facts.listed:
        return []
    wanted = before_codes(facts.card.procedure)
    return [code for code in wanted if code not in facts.confirmed_codes]


def _list_open(missing: list[str]) -> Fault:
    return Fault(
        field="preconditions",
        message=f"Confirm the preconditions first; still open: {', '.join(missing)}.",
    )


def _conditions(facts: CardFacts, entry: Entry) -> Mapping[str, Any]:
    """Return the conditions as sent, and those that the point gives."""
    named = str(entry.raw.get("point_id"))
    given = next((p.given for p in facts.card.points if str(p.id) == named), {})
    sent = entry.raw.get("conditions")
    return {**given, **(sent if isinstance(sent, dict) else {})}
