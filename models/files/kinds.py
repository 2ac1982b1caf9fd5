"""What kind of file it is, by its content alone; what is not known is refused."""

import csv
import re
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from models.errors import Fault, InputError

HEAD = 1 << 16  # bytes at the beginning and at the end that are looked at
PART_BYTES = 1 << 20  # the most that a workbook's list of parts may take
UNFOLDED = 200 << 20  # bytes that a workbook's parts may take together
PARTS = 5_000
ROWS = 20  # of a table that are compared
DELIMITERS = ",;\t"
WORKBOOK_ROOMS = ("xl/", "_rels/", "docProps/", "customXml/", "[Content_Types].xml")
MARKUP = re.compile(rb"<\s*(!doctype|html|svg|script|body|iframe|\?xml|!--)", re.I)
CFF = re.compile(rb"---\s*file type:\s*CFG\s*---", re.I)
WAVEFORM_BESIDE = ((), ("hdr",), ("inf",), ("hdr", "inf"))
CONTROL = re.compile(rb"[\x00-\x08\x0b\x0e-\x1f\x7f]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of file that is kept."""

    name: str
    title: str
    media_type: str
    endings: tuple[str, ...]  # of its name, the usual one first

    @property
    def is_picture(self) -> bool:
        """Whether it is a picture, written anew before it is kept."""
        return self.media_type.startswith("image/")


KINDS = {
    kind.name: kind
    for kind in (
        Kind(
            name="jpeg",
            title="picture (JPEG)",
            media_type="image/jpeg",
            endings=(".jpg", ".jpeg"),
        ),
        Kind(
            name="png",
            title="picture (PNG)",
            media_type="image/png",
            endings=(".png",),
        ),
        Kind(
            name="pdf",
            title="PDF",
            media_type="application/pdf",
            endings=(".pdf",),
        ),
        Kind(
            name="xlsx",
            title="workbook (XLSX)",
            media_type="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
            endings=(".xlsx",),
        ),
        Kind(
            name="csv",
            title="table (CSV)",
            media_type="text/csv; charset=utf-8",
            endings=(".csv", ".txt"),
        ),
        Kind(
            name="txt",
            title="text",
            media_type="text/plain; charset=utf-8",
            endings=(".txt", ".csv", ".cfg", ".dat", ".cff", ".hdr", ".inf", ".log"),
        ),
        Kind(
            name="waveform",
            title="waveform record (COMTRADE)",
            media_type="application/zip",
            endings=(".zip",),
        ),
        Kind(
            name="cff",
            title="waveform record (COMTRADE)",
            media_type="application/octet-stream",
            endings=(".cff",),
        ),
    )
}
ALLOWED = (
    "a JPEG, PNG or WebP picture, a PDF, an XLSX workbook without macros, a CSV "
    "table or plain text in UTF-8, or a waveform record (COMTRADE)"
)


def refused(why: str) -> InputError:
    """Return the error for a file that is not kept, at its field."""
    return InputError(Fault(field="file", message=why))


def kind_of(path: Path) -> str:
    """Return the kind of the file's content, a key of KINDS or webp.

    A picture is only named by its first bytes here; that it is one shows when it is
    decoded. Raises InputError for what is empty or not allowed.
    """
    with path.open("rb") as file:
        head = file.read(HEAD)
    if not head:
        raise refused("The file is empty.")
    if head.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "webp"
    if head.startswith(b"%PDF-"):
        return _pdf(path)
    if head.startswith(b"PK\x03\x04"):
        return "waveform" if _is_waveform(path) else _workbook(path)
    if CFF.match(head):
        return "cff"
    return _text(path, head)


def _pdf(path: Path) -> str:
    """A PDF begins as one, ends as one, and is nothing else besides."""
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - HEAD))
        tail = file.read()
    end = tail.rfind(b"%%EOF")
    if end < 0 or tail[end + 5 :].strip(b"\r\n\t \x00"):
        raise refused(
            "The PDF does not end as one: it was cut, or something is hung on it. "
            "Save it again as PDF."
        )
    if zipfile.is_zipfile(path):
        raise refused("The PDF is an archive too. Save it again as a plain PDF.")
    return "pdf"


def _is_waveform(path: Path) -> bool:
    """Return whether an archive is a configuration with its data, and no more.

    Whether the record can be read shows when a time is measured in it.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            parts = archive.infolist()
    except (zipfile.BadZipFile, OSError, ValueError):
        return False
    endings = sorted(part.filename.lower().rpartition(".")[2] for part in parts)
    plain = not any(re.search(r"[\\/:]|\.\.", part.filename) for part in parts)
    own = endings in (sorted({"cfg", "dat", *more}) for more in WAVEFORM_BESIDE)
    return plain and own and sum(part.file_size for part in parts) < UNFOLDED


def _workbook(path: Path) -> str:
    """A workbook has a workbook's parts, no others, and no macros."""
    try:
        with zipfile.ZipFile(path) as archive:
            parts = archive.infolist()
            if why := _parts_fault(parts):
                raise refused(why)
            types = archive.read("[Content_Types].xml").lower()
    except (zipfile.BadZipFile, KeyError, OSError, RuntimeError, ValueError) as error:
        raise refused(
            f"The file is an archive that cannot be read. Kept is {ALLOWED}."
        ) from error
    if b"macroenabled" in types or b"vbaproject" in types:
        raise refused(WITH_MACROS)
    return "xlsx"


WITH_MACROS = "The workbook has macros: they are not kept. Save it as XLSX without."


def _parts_fault(parts: Sequence[zipfile.ZipInfo]) -> str:
    names = [part.filename for part in parts]
    if "xl/workbook.xml" not in names or "[Content_Types].xml" not in names:
        return f"The file is an archive and no workbook. Kept is {ALLOWED}."
    if any(re.search(r"vbaProject|activeX|macrosheets", name, re.I) for name in names):
        return WITH_MACROS
    if any(not name.startswith(WORKBOOK_ROOMS) or ".." in name for name in names):
        return "The workbook holds parts that no workbook has. Save it again as XLSX."
    sizes = {part.filename: part.file_size for part in parts}
    unfolded = sum(part.file_size for part in parts)
    too_large = sizes["[Content_Types].xml"] > PART_BYTES or unfolded > UNFOLDED
    if len(parts) > PARTS or too_large:
        return (
            "The workbook unfolds to more than "
            f"{UNFOLDED >> 20} MB. Save what belongs to the record alone."
        )
    return ""


def _text(path: Path, head: bytes) -> str:
    """Text is UTF-8 without control characters, and no page that a browser runs."""
    if MARKUP.search(head) or head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        raise refused(
            "The file is written in a language of web pages or drawings (HTML, SVG, "
            f"XML), which can carry programs. Kept is {ALLOWED}."
        )
    try:
        with path.open(encoding="utf-8", newline="") as file:
            while piece := file.read(HEAD):
                if CONTROL.search(piece.encode()):
                    raise refused(f"This kind of file is not kept. Kept is {ALLOWED}.")
    except UnicodeDecodeError as error:
        raise refused(
            f"This kind of file is not kept. Kept is {ALLOWED}. If it is a text, save "
            "it in UTF-8."
        ) from error
    return "csv" if _is_table(head.decode("utf-8", "ignore")) else "txt"


def _is_table(text: str) -> bool:
    """Return whether the first lines have one number of cells, two at least."""
    lines = [line for line in text.lstrip("\ufeff").splitlines() if line][:ROWS]
    if len(lines) < 2:
        return False
    for delimiter in DELIMITERS:
        try:
            widths = {len(row) for row in csv.reader(lines, delimiter=delimiter)}
        except csv.Error:
            continue
        if len(widths) == 1 and min(widths) > 1:
            return True
    return False
