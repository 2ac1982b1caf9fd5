"""The register as a table: written, read back, and imported whole or not at all."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.analysis.tables import read_table
from models.analysis.tables.places import letter
from models.analysis.tables.write_table import csv_of, workbook_of
from models.errors import Fault, InputError
from models.procedures import PROCEDURES
from models.record.instrument import Range
from models.record.instrument_text import (
    HOW_APPLIES,
    HOW_READS,
    applies_text,
    read_applies,
    read_reads,
    reads_text,
)
from models.schema import Calibration, Instrument
from models.services.people.access import person_of, require
from models.services.setup.calibrations import (
    CalibrationEntry,
    calibration_faults,
    enter_calibration,
)
from models.services.setup.instrument_ranges import ranges_of
from models.services.setup.instruments import (
    InstrumentEntry,
    enter_instrument,
    entry_faults,
)
from models.services.setup.list_instruments import every_instrument

# column -> what it holds
COLUMNS: Mapping[str, str] = {
    "tag": "the number under which your firm knows it; once in the table",
    "name": "what it is",
    "serial": "its serial number",
    "maker": "may be blank",
    "type": "may be blank",
    "procedures": f"separated by ';', of {', '.join(PROCEDURES)}",
    "reads": f"may be blank; {HOW_READS}",
    "applies": f"may be blank; {HOW_APPLIES}",
    "calibrated_on": "a day, 2026-03-31; blank with the three that follow: none yet",
    "due_on": "a day",
    "certificate_no": "of the calibration",
    "laboratory": "who calibrated it",
}
OF_CALIBRATION = ("calibrated_on", "due_on", "certificate_no", "laboratory")
NEEDED = ("tag", "name", "serial", "procedures")
MOST_FAULTS = 100  # listed
OF_EXAMPLE = next(n for n, one in PROCEDURES.items() if "GOhm" in one.units)
EXAMPLE = (
    *("IR-01", "5 kV insulation tester", "70113", "", "", OF_EXAMPLE),
    "0..10 GOhm: 5% + 0.02; 10..1000 GOhm: 10% + 3 digits of 0.1",
    "0.25..5 kV dc",
    *("2026-03-03", "2027-03-03", "C-1", "the laboratory"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """One row of a table; *calibration* None where its cells are blank."""

    number: int
    entry: InstrumentEntry
    calibration: CalibrationEntry | None


def template_csv() -> bytes:
    """Return the table to fill in, with one example row."""
    return csv_of([tuple(COLUMNS), EXAMPLE])


def template_workbook() -> bytes:
    """Return the same as a workbook, with a sheet that says what columns hold."""
    about = [("column", "what it holds"), *COLUMNS.items()]
    table = [tuple(COLUMNS), EXAMPLE]
    return workbook_of({"instruments": table, "columns": about}, "instruments")


def register_csv(
    session: Session, *, person_id: UUID, today: date, words: str, state: str
) -> bytes:
    """Return the list that is looked for, in the columns of the import."""
    rows = every_instrument(
        session, person_id=person_id, today=today, words=words, state=state
    )
    found = session.scalars(
        select(Instrument)
        .where(Instrument.id.in_([row.id for row in rows]))
        .options(selectinload(Instrument.calibrations), selectinload(Instrument.ranges))
    )
    known = {one.id: one for one in found}
    return csv_of([tuple(COLUMNS), *(_line(known[row.id]) for row in rows)])


def _line(one: Instrument) -> tuple[str, ...]:
    last = max(one.calibrations, key=lambda c: c.due_on, default=None)
    ranges = ranges_of(one)
    return (
        *(one.tag, one.name, one.serial, one.maker or "", one.type or ""),
        "; ".join(one.procedures),
        reads_text(ranges),
        applies_text(ranges),
        *(_calibration_cells(last) if last else ("",) * len(OF_CALIBRATION)),
    )


def _calibration_cells(one: Calibration) -> tuple[str, ...]:
    days = (one.calibrated_on.isoformat(), one.due_on.isoformat())
    return (*days, one.certificate_no, one.laboratory)


def read_instruments(
    session: Session, *, person_id: UUID, data: bytes, today: date
) -> list[TableRow]:
    """Return the rows of a CSV or XLSX table; nothing is stored.

    Raises InputError with every fault at its place, `row 3, column B (name)`.
    """
    person = person_of(session, person_id)
    require(person, "set up")
    header, rows = _table(data)
    faults: list[Fault] = []
    found: list[TableRow] = []
    seen: dict[str, int] = {}
    for number, cells in rows:
        row = _Row(number, header, cells, faults)
        entry, calibration = row.entry(), row.calibration()
        row.take(entry_faults(session, person.organisation_id, entry, None))
        if calibration:
            row.take(calibration_faults(None, calibration, today))
        tag = entry.tag.strip()
        if tag in seen:
            row.fault("tag", f"'{tag}' stands in row {seen[tag]} already.")
        seen.setdefault(tag, number)
        found.append(TableRow(number=number, entry=entry, calibration=calibration))
    if faults:
        raise InputError(*faults[:MOST_FAULTS])
    return found


def import_instruments(
    session: Session,
    *,
    person_id: UUID,
    data: bytes,
    now: datetime,
    new_id: Callable[[], UUID],
) -> int:
    """Add each instrument of a table with its calibration, or none; say how many."""
    rows = read_instruments(session, person_id=person_id, data=data, today=now.date())
    for row in rows:
        instrument_id = enter_instrument(
            session,
            person_id=person_id,
            instrument_id=new_id(),
            entry=row.entry,
            now=now,
        )
        if row.calibration:
            enter_calibration(
                session,
                person_id=person_id,
                instrument_id=instrument_id,
                calibration_id=new_id(),
                entry=row.calibration,
                now=now,
            )
    return len(rows)


Cells = Sequence[tuple[str, str]]


def _table(data: bytes) -> tuple[dict[str, int], list[tuple[int, Cells]]]:
    """Return the columns' places and the rows; InputError for wrong columns."""
    sheets = read_table(data)
    rows = list(next(iter(sheets.values()), ()))
    if len(rows) < 2:
        message = "The table has no row below its headings."
        raise InputError(Fault(field="the table", message=message))
    names = [text.strip().lower() for text, _ in rows[0][1]]
    wrong = [
        *(f"'{n}' is no column." for n in names if n and n not in COLUMNS),
        *(f"the column {n} is missing." for n in NEEDED if n not in names),
        *(f"'{n}' stands twice." for n in set(names) if n and names.count(n) > 1),
    ]
    if wrong:
        place = f"row {rows[0][0]}"
        known = f"The columns are {', '.join(COLUMNS)}."
        raise InputError(
            *(Fault(field=place, message=said) for said in (*wrong, known))
        )
    return {name: at for at, name in enumerate(names) if name}, rows[1:]


class _Row:
    """A row of the table that is read; what is wrong goes to *faults*."""

    def __init__(
        self, number: int, header: Mapping[str, int], cells: Cells, faults: list[Fault]
    ) -> None:
        self.number, self._header, self._faults = number, header, faults
        self._texts: dict[str, str] = {}
        for name in COLUMNS:
            at = header.get(name)
            text, wrong = cells[at] if at is not None and at < len(cells) else ("", "")
            self._texts[name] = text.strip()
            if wrong:
                self.fault(name, wrong)

    def entry(self) -> InstrumentEntry:
        """Return the instrument that the row says."""
        text = self._texts
        return InstrumentEntry(
            tag=text["tag"],
            name=text["name"],
            serial=text["serial"],
            maker=text["maker"],
            type=text["type"],
            procedures=[n.strip() for n in text["procedures"].split(";") if n.strip()],
            ranges=[
                *self._ranges("reads", read_reads),
                *self._ranges("applies", read_applies),
            ],
        )

    def calibration(self) -> CalibrationEntry | None:
        """Return the calibration that the row says; None where it says none."""
        if not any(self._texts[name] for name in OF_CALIBRATION):
            return None
        return CalibrationEntry(
            calibrated_on=self._day("calibrated_on"),
            due_on=self._day("due_on"),
            certificate_no=self._texts["certificate_no"],
            laboratory=self._texts["laboratory"],
        )

    def take(self, faults: Sequence[Fault]) -> None:
        """Take over the faults of a service; those of ranges go to what they do."""
        for one in faults:
            name = "reads" if one.field.startswith("ranges") else one.field
            self.fault(name, one.message)

    def fault(self, name: str, message: str) -> None:
        """Note a fault at a column."""
        at = self._header.get(name)
        column = f"column {name}" if at is None else f"column {letter(at)} ({name})"
        self._faults.append(
            Fault(field=f"row {self.number}, {column}", message=message)
        )

    def _ranges(self, name: str, read: Callable[[str], list[Range]]) -> list[Range]:
        try:
            return read(self._texts[name])
        except InputError as error:
            for one in error.faults:
                self.fault(name, one.message)
            return []

    def _day(self, name: str) -> date | None:
        text = self._texts[name][:10]
        try:
            return date.fromisoformat(text)
        except ValueError:
            return None
