"""What programs that are not ours read out of a PDF (poppler)."""

import subprocess
from pathlib import Path


def page_texts(pdf: bytes, folder: Path, *, across: bool = True) -> list[str]:
    """Return the text of each page as pdftotext finds it, runs of spaces as one.

    *across*: line by line over the whole page; else as it was drawn, so that what
    breaks within a cell stays together.
    """
    file = folder / "read.pdf"
    file.write_bytes(pdf)
    found = subprocess.run(
        ["pdftotext", "-layout" if across else "-raw", str(file), "-"],
        capture_output=True,
        check=True,
    )
    pages = found.stdout.decode().split("\f")[:-1]
    return [" ".join(page.split()) for page in pages]


def attached(pdf: bytes, folder: Path) -> dict[str, bytes]:
    """Return the attached files by name as pdfdetach saves them."""
    file, saved = folder / "read.pdf", folder / "saved"
    file.write_bytes(pdf)
    saved.mkdir()
    subprocess.run(["pdfdetach", "-saveall", "-o", str(saved), str(file)], check=True)
    return {path.name: path.read_bytes() for path in saved.iterdir()}


def fonts(pdf: bytes, folder: Path) -> list[list[str]]:
    """Return the rows of pdffonts: name, type, encoding, emb, sub, uni, object."""
    file = folder / "read.pdf"
    file.write_bytes(pdf)
    found = subprocess.run(["pdffonts", str(file)], capture_output=True, check=True)
    return [row.split() for row in found.stdout.decode().splitlines()[2:]]
