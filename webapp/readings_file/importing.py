"""What a page of a file is about: file, instrument, and what is chosen of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from flask import request
from werkzeug.datastructures import MultiDict

from models.analysis.tables import read_any_table
from models.analysis.tables.places import letter
from models.errors import NotFoundError
from models.record.readings_table import Columns, ReadRow, read_readings
from models.record.readings_table.columns import rows_left_out
from models.record.readings_table.read import Row, with_columns
from models.services.keeping.attachments import AttachmentView
from models.services.readings_file.file_card import FileCard
from models.services.readings_file.file_round import FileRound
from models.services.readings_file.kept_columns import Kept
from models.services.readings_file.taking import FileOf, TriedRow
from webapp.file_store import store
from webapp.readings_file.forms import CONDITION, GIVEN, ColumnsForm, as_chosen, likely

FIRST_ROWS = 6  # that are shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Import:
    """A card or a round, one of its files, and what is chosen of it."""

    of: FileCard | FileRound
    file: AttachmentView
    instrument_id: UUID | None
    sheets: Mapping[str, Sequence[Row]]
    form: ColumnsForm
    conditions: Mapping[str, int]
    given: Mapping[str, str]  # conditions of all rows
    kept: Kept | None
    looking: bool  # the columns are chosen: the rows are tried

    @property
    def instrument(self) -> str:
        """The instrument in words; "" before one is chosen."""
        return dict(self.of.instruments).get(self.instrument_id or UUID(int=0), "")

    @property
    def rows(self) -> Sequence[Row]:
        """The rows of the sheet that is chosen."""
        return self.sheets.get(self.form.sheet.data or "", ())

    @property
    def first(self) -> Sequence[Row]:
        """The first rows, to choose columns by."""
        return self.rows[:FIRST_ROWS]

    @property
    def heads(self) -> list[str]:
        """The columns in words."""
        header = (self.form.header.data or "").strip()
        return headings(self.rows, int(header) if header.isdecimal() else 0)

    def columns(self) -> Columns:
        """Return the columns; InputError at the field to be mended."""
        return self.form.columns(self.conditions)

    def read(self, most: int) -> list[ReadRow]:
        """Return the rows as readings; those beyond *most* have a fault, and one stays.

        Raises InputError at the field to be mended.
        """
        left_out = rows_left_out(self.form.left_out.data or "")
        rows = read_readings(self.rows, self.columns(), left_out, self.of.zone)
        for row in rows[most:]:
            said = f"A file gives {most} readings at most: leave rows out."
            row.faults.append((None, said))
        return rows[: most + 1]

    def file_of(self) -> FileOf:
        """Return the file as its readings name it."""
        return FileOf(
            name=self.file.name,
            digest=self.file.digest,
            instrument_id=self.instrument_id,
            conditions=self.given,
            reason=(self.form.reason.data or "").strip(),
        )

    def said(self, one: TriedRow) -> str:
        """Return what is wrong with a row, in words."""
        own = with_columns(one.read.faults, dict(enumerate(self.heads)))
        return " ".join([own, *one.faults]).strip()


def one_file(of: FileCard | FileRound, attachment_id: UUID) -> AttachmentView:
    """Return a file of the card or round; NotFoundError."""
    for one in of.files:
        if one.id == attachment_id:
            return one
    raise NotFoundError("file", attachment_id)


def chosen_instrument(of: FileCard | FileRound) -> UUID | None:
    """Return the instrument of the address, or the only one that there is."""
    known = {str(key): key for key, _ in of.instruments}
    only = next(iter(known)) if len(known) == 1 else ""
    return known.get(request.values.get("instrument", only))


def import_of(
    of: FileCard | FileRound,
    file: AttachmentView,
    kept: Kept | None,
    form_class: type[ColumnsForm],
) -> Import:
    """Return what the page is about; the database waits for no file."""
    with store().open(file.digest) as held:
        sheets = read_any_table(held.read())
    looking = "value" in request.values
    first = next(iter(sheets))
    chosen = request.values.to_dict()
    if not looking:
        heads = headings(sheets[first], 1)
        offered = as_chosen(kept.columns) if kept else likely(of, heads)
        chosen = offered | {name: v for name, v in chosen.items() if name == "test"}
    named_sheet = chosen.get("sheet", first)
    chosen["sheet"] = named_sheet if named_sheet in sheets else first
    form = form_class(MultiDict(chosen))
    header = (form.header.data or "").strip()
    at = int(header) if header.isdecimal() else 0
    form.offer(list(sheets), headings(sheets[chosen["sheet"]], at))
    return Import(
        of=of,
        file=file,
        instrument_id=chosen_instrument(of),
        sheets=sheets,
        form=form,
        conditions={
            ask["name"]: int(chosen[CONDITION + ask["name"]])
            for ask in of.asks
            if chosen.get(CONDITION + ask["name"], "").isdecimal()
        },
        given={
            ask["name"]: typed
            for ask in of.asks
            if (typed := request.values.get(GIVEN + ask["name"], "").strip())
        },
        kept=kept,
        looking=looking,
    )


def headings(rows: Sequence[Row], header: int) -> list[str]:
    """Return the columns in words: their letter, and their heading."""
    width = max((len(cells) for _, cells in rows), default=0)
    heads = dict(rows).get(header, ())
    return [
        f"{letter(at)}: {heads[at][0].strip()}"
        if at < len(heads) and heads[at][0].strip()
        else letter(at)
        for at in range(width)
    ]
