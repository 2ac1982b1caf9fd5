"""Cells of a workbook (XLSX), read by a program that may die of it."""

import io
import json
import os
import subprocess
import sys
import zipfile
from collections.abc import Sequence
from pathlib import Path

from models.analysis.tables.places import MOST_UNFOLDED, Row
from models.errors import Fault, InputError

PROGRAM = "models.analysis.tables.workbook_program"
HERE = Path(__file__).resolve().parents[3]  # where the program finds us
SECONDS = 30  # that somebody waits
SETTINGS = "WITNESSMARK_"
MOST_ENTRIES = 2000  # of the archive
NO_WORKBOOK = "This is not a workbook (XLSX) that can be read."
TOO_LARGE = (
    "The workbook is too large once unfolded: keep only the sheets of the table."
)


def workbook_sheets(data: bytes) -> dict[str, Sequence[Row]]:
    """Return the rows of each sheet; InputError where there is no reading them."""
    look_at_the_archive(data)
    try:
        done = subprocess.run(  # noqa: S603 (our own program)
            [sys.executable, "-m", PROGRAM],
            input=data,
            capture_output=True,
            timeout=SECONDS,
            check=False,
            cwd=HERE,
            env=_without_secrets(),
        )
    except subprocess.TimeoutExpired as error:
        raise refused(TOO_LARGE) from error
    if done.returncode:
        raise refused(TOO_LARGE)
    read = json.loads(done.stdout)
    if "fault" in read:
        place, said = read["fault"]
        raise InputError(Fault(field=place, message=said))
    return {
        name: [
            (number, [(text, wrong) for text, wrong in cells]) for number, cells in rows
        ]
        for name, rows in read["sheets"].items()
    }


def _without_secrets() -> dict[str, str]:
    """Return the environment that the program gets: none of our settings."""
    return {k: v for k, v in os.environ.items() if not k.startswith(SETTINGS)}


def look_at_the_archive(data: bytes) -> None:
    """Refuse by the list of an archive what need not be unfolded to be refused."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
    except Exception as error:  # whatever the bytes may be
        raise refused(NO_WORKBOOK) from error
    names = [entry.filename for entry in entries]
    if any(name.casefold().endswith("vbaproject.bin") for name in names):
        raise refused("The workbook holds macros: save it as XLSX without them.")
    if "content.xml" in names:
        raise refused("This is an OpenDocument file: save it as XLSX, or as CSV.")
    if len(entries) > MOST_ENTRIES:
        raise refused(TOO_LARGE)
    if sum(entry.file_size for entry in entries) > MOST_UNFOLDED:
        raise refused(TOO_LARGE)


def refused(message: str) -> InputError:
    """Return the error that refuses the whole file."""
    return InputError(Fault(field="the file", message=message))
