"""A round whose readings come from a file for several cards, as its page needs it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.record.shapes.round_document import DocumentInstrument
from models.services.field.card_facts import round_cards
from models.services.field.card_with_files import files_of_kinds, instruments_for
from models.services.field.round_document import instruments_json
from models.services.keeping.attachments import AttachmentView, attached
from models.services.people.access import person_of, require, round_of
from models.services.readings_file.file_card import KINDS


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRound:
    """The round: *tests* are its procedures with their titles.

    *cards* are the names of its cards by id, in their order; *test* is the procedure
    that is chosen, "" before.
    """

    id: UUID
    title: str
    where: str
    zone: str
    tests: Mapping[str, str]
    test: str
    units: Mapping[str, str]
    cards: Mapping[UUID, str]
    register: Sequence[DocumentInstrument]
    files: Sequence[AttachmentView]
    may_add: bool

    def for_test(self, test: str) -> "FileRound":
        """Return it with the procedure chosen; one that it has not is none."""
        only = next(iter(self.tests)) if len(self.tests) == 1 else ""
        return replace(self, test=test if test in self.tests else only)

    @property
    def unit(self) -> str:
        """The unit of the cards of the test; "" before one is chosen."""
        return self.units.get(self.test, "")

    @property
    def asks(self) -> Sequence[Mapping[str, Any]]:
        """The conditions of the test."""
        return PROCEDURES[self.test].asks if self.test else ()

    @property
    def instruments(self) -> Sequence[tuple[UUID, str]]:
        """The instruments for the test; before one is chosen for any of them."""
        wanted = {self.test} if self.test else set(self.tests)
        return instruments_for(self.register, wanted)


def file_round(session: Session, *, person_id: UUID, round_id: UUID) -> FileRound:
    """Return the round; NotFoundError, ForbiddenError."""
    person = person_of(session, person_id)
    require(person, "record")
    round_ = round_of(session, person, round_id)
    cards = round_cards(session, round_.id)
    files = attached(session, person_id=person_id, subject="round", subject_id=round_id)
    tests = {card.procedure: PROCEDURES[card.procedure].title for card in cards}
    return FileRound(
        id=round_.id,
        title=round_.title,
        where=f"{round_.lineup.site.name} · {round_.lineup.name}",
        zone=round_.lineup.site.zone,
        tests=tests,
        test="",
        units={card.procedure: card.unit for card in cards},
        cards={
            card.id: f"Cell {card.cell.number} · {card.apparatus.label}"
            + (f" · {card.detail}" if card.detail else "")
            for card in cards
        },
        register=instruments_json(session, person.organisation_id),
        files=files_of_kinds(files, KINDS),
        may_add=files.may_add,
    )
