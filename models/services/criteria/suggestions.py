"""Figures without a published source that a lead may adopt for a lineup."""

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy.orm import Session

from models.criteria import load
from models.judging.wording import plain
from models.procedures import GIVABLE, PROCEDURES
from models.procedures.given import said_figure
from models.procedures.procedure import Givable
from models.schema import Lineup
from models.services.criteria.criterion_draft import Wording
from models.services.criteria.given_in_force import given_in_force
from models.services.people.access import lineup_apparatus
from models.services.setup.programmes import planned_cards

DOCUMENT = "Suggestion of this program, without a published source"
STANDING = "project"


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A figure that may be adopted, and what would be entered; its reason is asked."""

    quantity: str
    title: str
    procedure: str
    figure: str
    wording: Wording


def suggestions(session: Session, lineup: Lineup) -> list[Suggestion]:
    """Return what is suggested for tests of the lineup and not given for it yet."""
    tested = {
        card.procedure
        for one in lineup_apparatus(session, lineup.id)
        for card in planned_cards(one)
    }
    given = {row.quantity for row in given_in_force(session, lineup.id)}
    return [one for one in _every(tested) if one.quantity not in given]


def suggested_wording(quantity: str) -> Wording | None:
    """Return what is entered where the suggestion is adopted; None: there is none."""
    known = GIVABLE.get(quantity)
    return None if known is None or known.suggested is None else _wording(known)


def _every(procedures: set[str]) -> Iterator[Suggestion]:
    for name, one in GIVABLE.items():
        if one.suggested is not None and one.procedure in procedures:
            wording = _wording(one)
            yield Suggestion(
                quantity=name,
                title=one.title,
                procedure=PROCEDURES[one.procedure].title,
                figure=said_figure(one, float(wording.text)),
                wording=wording,
            )


def _wording(one: Givable) -> Wording:
    said = one.suggested
    assert said is not None
    row = load().table(said["table"]).find(lambda row: row["row"] == said["row"])
    assert row is not None
    return Wording(
        text=plain(row[said["column"]]),
        unit=one.units[0],
        document=DOCUMENT,
        clause=said["row"],
    )
