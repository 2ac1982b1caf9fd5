"""Hold points: no reading is taken before the release by name."""

from models.errors import Fault, InputError
from models.services.field.card_facts import CardFacts
from models.services.field.entry import Entry


def require_released(facts: CardFacts, entry: Entry) -> None:
    """Raise InputError where a hold point that was set before the reading waits.

    A reading that was taken before the point was set asks for no release. One whose
    point was released meanwhile is taken, and the gate lists it until it is repeated.
    """
    waiting = [
        point
        for point in facts.inspections
        if point.kind == "hold" and point.answer is None and point.at <= entry.at
    ]
    if waiting:
        raise InputError(
            *(
                Fault(
                    field="inspections",
                    message=(
                        f"A hold point waits for its release by {point.party}: no "
                        "reading is taken before it. What was typed stays."
                    ),
                )
                for point in waiting
            )
        )
