"""What `witnessmark judge` writes: a writer a format, fed part by part."""

import re
from collections.abc import Callable
from typing import IO, Any, Protocol

from models.analysis.judge_part import JudgedPart
from models.judging.quantities import said_unit
from models.judging.rules import MEMORY_MARK, rests_on_memory
from models.judging.verdicts import Judgement
from models.judging.wording import amount, figure, said_as
from webapp.commands.judge_columns import NAMES, NUMBERS, WORKING, brief, in_full
from webapp.commands.judge_lines import json_line
from webapp.words.csv_cells import safe

SPECIAL = re.compile('[,"\r\n]')
HARMFUL = re.compile('[,"\r\t]|\n[-=+@]')  # in lines, each after its end of line
# Columns that may need quotes, or lack a word here and there; the others never do.
QUOTED = frozenset(NAMES) - {*NUMBERS, "test", "verdict"} | {WORKING}


class Writer(Protocol):
    """Writes judged parts to a binary file that others opened and will close."""

    words: bool  # whether every row is wanted with its words

    def part(self, part: JudgedPart) -> None:
        """Write a part."""

    def end(self) -> None:
        """Write what comes after the last part."""


class _Text:
    """A writer of text in UTF-8 with bare newlines."""

    words = True

    def __init__(self, out: IO[bytes]) -> None:
        self._out = out

    def say(self, text: str) -> None:
        self._out.write(text.encode("utf-8", "backslashreplace"))

    def end(self) -> None:
        """Nothing comes after the last part."""


class JsonWriter(_Text):
    """One JSON object a line."""

    def part(self, part: JudgedPart) -> None:
        """Write a part."""
        self.say("".join(map(json_line, part.judged_rows())))


class TableWriter(_Text):
    """A table to read: id, test, verdict, value, reason, what is from memory."""

    def __init__(self, out: IO[bytes]) -> None:
        """Write the heads of the columns."""
        super().__init__(out)
        self.say(f"{'id':<16}{'test':<23}{'verdict':<10}{'at reference':>16}  reason\n")

    def part(self, part: JudgedPart) -> None:
        """Write a part."""
        for row in part.judged_rows():
            judgement = row.judgement
            corrected = "–"
            if judgement.corrected is not None:
                corrected = _said(judgement.corrected, judgement)
            mark = f" {MEMORY_MARK}" if rests_on_memory(judgement.cite) else ""
            self.say(
                f"{one_line(row.id):<15} {row.test:<22} {judgement.verdict:<9} "
                f"{corrected:>16}  {judgement.reason}{mark}\n"
            )


def _said(value: float, judgement: Judgement) -> str:
    """Return a number of a judgement, in the unit in which its rule says it."""
    if judgement.said_unit is None:
        return f"{figure(value)} {said_unit(judgement.corrected_unit)}"
    return amount(value, said_as(judgement.corrected_unit or "", judgement.said_unit))


class CsvWriter(_Text):
    """One row a reading, for people: a spreadsheet may open it."""

    def __init__(self, out: IO[bytes], *, working: bool) -> None:
        """Write the names of the columns."""
        super().__init__(out)
        self.words = working
        self.say(",".join((*NAMES, WORKING) if working else NAMES) + "\n")

    def part(self, part: JudgedPart) -> None:
        """Write a part."""
        columns = in_full(part) if self.words else brief(part)
        cells = [_cells(name, column) for name, column in columns.items()]
        self.say("".join([",".join(row) + "\n" for row in zip(*cells, strict=True)]))


def _cells(name: str, column: list[Any]) -> list[str]:
    """Return a column as cells of CSV (RFC 4180)."""
    if name in NUMBERS:
        return ["" if number is None else repr(number) for number in column]
    if name == "id" and _harmless(column):
        return column  # nearly always
    if name in QUOTED:
        known = {text: quoted(safe(text or "")) for text in set(column)}
        return [known[text] for text in column]
    return column


def _harmless(column: list[str]) -> bool:
    """Return whether no text needs quotes or may be taken for a formula."""
    lines = "\n".join(["", *column])
    return lines.count("\n") == len(column) and HARMFUL.search(lines) is None


def quoted(text: str) -> str:
    """Return a text in double quotes where it needs them."""
    if SPECIAL.search(text) is None:
        return text
    return '"' + text.replace('"', '""') + '"'


def one_line(text: str) -> str:
    """Return *text* as one line: what a cell holds must not steer a terminal."""
    return "".join(c if c.isprintable() else repr(c)[1:-1] for c in text)


def writer_of(shape: str, *, working: bool) -> Callable[[IO[bytes]], Writer]:
    """Return what opens a writer; ModuleNotFoundError for a library not installed."""
    if shape == "csv":
        return lambda out: CsvWriter(out, working=working)
    if shape == "parquet":
        from webapp.commands.judge_parquet import ParquetWriter  # noqa: PLC0415

        return lambda out: ParquetWriter(out, working=working)
    return TableWriter if shape == "table" else JsonWriter
