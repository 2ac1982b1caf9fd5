"""Rows of a file on their way to a card: as a tablet's entries, and what became."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from sqlalchemy.orm import Session

from models.record.readings_table import ReadRow
from models.schema import Reading
from models.services.field.card_facts import CardFacts

SPACE = UUID("0c1f1f0e-6f5b-5a0e-9a35-3d3f0f3a6b52")
IN_A_NOTE = 30  # readings that one note names


@dataclass(frozen=True, slots=True, kw_only=True)
class FileOf:
    """The file that rows come from, and the instrument that wrote it."""

    name: str
    digest: str
    instrument_id: UUID | None
    conditions: Mapping[str, str]  # of all rows, where a row says none
    reason: str  # why points that are read are measured again; "" : they are not

    @property
    def device(self) -> str:
        """What stands with each reading as the device."""
        return f"file {self.name}"[:100]


@dataclass(slots=True, kw_only=True)
class TriedRow:
    """What became of a row: stored, known (on record already) or wrong.

    *card_id*: whose card it is for; None where the row does not say of which.
    """

    read: ReadRow
    card_id: UUID | None
    point: str
    status: str
    faults: list[str]
    verdict: str = ""
    reason: str = ""


class Taking:
    """The rows of one file on their way to one card."""

    def __init__(
        self, session: Session, facts: CardFacts, file: FileOf, now: datetime
    ) -> None:
        """*facts*: what is on the card before."""
        self.session, self.facts, self.file, self.now = session, facts, file, now
        self.points = {
            " ".join(one.label.split()).casefold(): one for one in facts.card.points
        }
        self.standing = {one.point_id: one for one in facts.current}
        self.told: list[tuple[ReadRow, str]] = []
        self.given: dict[UUID, int] = {}  # the row of a point

    def key(self, row: ReadRow) -> UUID:
        """Return the entry's key: the same for the same file, row and card."""
        return uuid5(SPACE, f"{self.facts.card.id} {self.file.digest} {row.row}")

    def entry(self, row: ReadRow) -> dict[str, Any] | None:
        """Return the row as a tablet's entry; None: it is known, or has faults."""
        point = self.points.get(row.point.casefold())
        if row.point and point is None:
            said = f"This card has no point “{row.point}”."
            row.faults.append((None, said))
        if row.taken_at and row.taken_at > self.now:
            row.faults.append((None, "The time lies in the future."))
        if row.faults or point is None:
            return None
        before_in_file = self.given.setdefault(point.id, row.row)
        if before_in_file != row.row:
            said = f"Row {before_in_file} has the same point: leave one of them out."
            row.faults.append((None, said))
            return None
        if self.session.get(Reading, self.key(row)) is not None:
            return None
        before = self.standing.get(point.id)
        again = before is not None and self.file.reason
        self.told.append((row, point.label))
        asked = {
            **self.facts.card.defaults,
            **self.file.conditions,
            **row.conditions,
        }
        return {
            "key": str(self.key(row)),
            "kind": "reading",
            "card_id": str(self.facts.card.id),
            "at": (row.taken_at or self.now).isoformat(),
            "point_id": str(point.id),
            "text": row.text,
            "unit": row.unit or None,
            "conditions": {k: v for k, v in asked.items() if v not in (None, "")},
            "instrument_id": str(self.file.instrument_id or ""),
            "supersedes": str(before.id) if before and again else None,
            "reason": self.file.reason if again else None,
        }

    def notes(self) -> Iterator[dict[str, Any]]:
        """Yield the notes: from which file and row, and what the rows remark."""
        for at in range(0, len(self.told), IN_A_NOTE):
            part = self.told[at : at + IN_A_NOTE]
            rows = "; ".join(f"{point}: row {row.row}" for row, point in part)
            yield self._note(
                part[0][0],
                "rows",
                f"Read from {self.file.name} (SHA-256 {self.file.digest[:16]}…). "
                f"{rows}.",
            )
        for row, point in self.told:
            if row.note:
                yield self._note(row, "note", f"{point}: {row.note}")

    def _note(self, row: ReadRow, what: str, text: str) -> dict[str, Any]:
        return {
            "key": str(uuid5(self.key(row), what)),
            "kind": "note",
            "card_id": str(self.facts.card.id),
            "at": (row.taken_at or self.now).isoformat(),
            "text": text,
        }

    def tried(
        self, row: ReadRow, answer: Mapping[str, Any] | None, after: CardFacts
    ) -> TriedRow:
        """Return what became of a row; *after*: what is on the card then."""
        held = self.session.get(Reading, self.key(row))
        point = self.points.get(row.point.casefold())
        label = point.label if point else row.point
        faults = [one["message"] for one in answer["faults"]] if answer else []
        wrong = bool(row.faults or faults)
        if wrong:
            faults += second_headings(row)
        tried = TriedRow(
            read=row,
            card_id=self.facts.card.id,
            point=label,
            status="wrong" if wrong else "stored" if answer else "known",
            faults=faults,
        )
        if held is not None and not wrong:
            reading = next(one for one in after.readings if one.id == held.id)
            tried.verdict = reading.judgement.verdict
            tried.reason = str(after.say(reading.judgement)["reason"])
        return tried


def second_headings(row: ReadRow) -> list[str]:
    """Return what is said of a faulty first row that may be headings, or nothing."""
    if not row.first or any(sign.isdigit() for sign in row.text):
        return []
    return [
        f"If this is a second row of headings: the row of the headings is {row.row}."
    ]
