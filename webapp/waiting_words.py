"""What waits for a person, in words with the way there."""

from collections.abc import Iterable
from dataclasses import dataclass

from flask import url_for

from models.services.turnover.waiting import Waits

# kind: one, several, the page where it is settled, the state that it is asked for
WORDS = {
    "agreements": (
        "decision waits for your agreement",
        "decisions wait for your agreement",
        "turnover.waiting",
        None,
    ),
    "inspections": (
        "hold, witness or review point waits for you",
        "hold, witness or review points wait for you",
        "turnover.waiting_inspections",
        None,
    ),
    "cards": (
        "card assigned to you is not signed",
        "cards assigned to you are not signed",
        "field.rounds",
        None,
    ),
    "readings": (
        "reading not within waits for a decision",
        "readings not within wait for a decision",
        "turnover.rounds",
        "open",
    ),
    "deficiencies": (
        "open deficiency stops a turnover",
        "open deficiencies stop turnovers",
        "turnover.deficiencies",
        "open",
    ),
    "approved": (
        "round waits for the owner’s acceptance",
        "rounds wait for the owner’s acceptance",
        "turnover.rounds",
        "approved",
    ),
    "to accept": (
        "package waits for your acceptance",
        "packages wait for your acceptance",
        "owner.lineups",
        None,
    ),
}


@dataclass(frozen=True, slots=True)
class WaitingLine:
    """A sentence and where it leads."""

    text: str
    address: str


def waiting_lines(found: Iterable[Waits]) -> list[WaitingLine]:
    """Return a line for each kind of thing that waits."""
    lines = []
    for one in found:
        single, several, endpoint, state = WORDS[one.kind]
        words = single if one.count == 1 else several
        lines.append(
            WaitingLine(f"{one.count} {words}", url_for(endpoint, state=state))
        )
    return lines
