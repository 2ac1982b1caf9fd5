"""Files inside a PDF that are not what a package holds."""

import io
import zlib
from collections.abc import Callable

import pikepdf
import pytest

from models.signing.embedded import LARGEST, EmbeddedFileError, embedded_files
from models.signing.verification import verify_package

NAME = "record.json"
Act = Callable[[pikepdf.Pdf], pikepdf.Stream]


def pdf_with(act: Act) -> bytes:
    """Return a PDF whose one attachment has the stream that *act* makes."""
    out = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.attachments[NAME] = pikepdf.AttachedFileSpec(pdf, b"{}", filename=NAME)
        files = pdf.attachments[NAME].obj.EF
        files.F = files.UF = act(pdf)
        as_it_is = pikepdf.StreamDecodeLevel.none
        pdf.save(out, compress_streams=False, stream_decode_level=as_it_is)
    return out.getvalue()


def packed(content: bytes, *filters: str, parms: bool = False) -> Act:
    def act(pdf: pikepdf.Pdf) -> pikepdf.Stream:
        stream = pikepdf.Stream(pdf, b"")
        names = [pikepdf.Name(f"/{name}") for name in filters]
        stream.write(content, filter=names[0] if len(names) == 1 else names)
        if parms:
            stream.DecodeParms = pikepdf.Dictionary(Predictor=12, Columns=1)
        return stream

    return act


def of_zeros(size: int) -> bytes:
    """Return *size* zeros, packed a thousand to one."""
    packer = zlib.compressobj(9)
    return packer.compress(bytes(size)) + packer.flush()


READABLE = {
    "not packed": (lambda pdf: pikepdf.Stream(pdf, b"{}"), b"{}"),
    "packed": (packed(zlib.compress(b'{"a": 1}'), "FlateDecode"), b'{"a": 1}'),
    "the largest": (packed(of_zeros(LARGEST), "FlateDecode"), bytes(LARGEST)),
}


@pytest.mark.parametrize(("act", "content"), READABLE.values(), ids=READABLE)
def test_a_file_is_read(act: Act, content: bytes) -> None:
    assert embedded_files(pdf_with(act), (NAME, "not-there")) == {NAME: content}


TWICE = zlib.compress(zlib.compress(b"{}"))
REFUSED = {
    "a byte too large": (packed(of_zeros(LARGEST + 1), "FlateDecode"), "more than"),
    "packed twice": (packed(TWICE, "FlateDecode", "FlateDecode"), "no package uses"),
    "in another way": (packed(b"7b7d>", "ASCIIHexDecode"), "no package uses"),
    "with a predictor": (
        packed(zlib.compress(b"\x02{"), "FlateDecode", parms=True),
        "no package uses",
    ),
}


@pytest.mark.parametrize(("act", "why"), REFUSED.values(), ids=REFUSED)
def test_a_file_that_no_package_holds_is_refused(act: Act, why: str) -> None:
    pdf = pdf_with(act)
    with pytest.raises(EmbeddedFileError, match=why):
        embedded_files(pdf, (NAME,))
    (fault,) = verify_package(pdf).faults
    assert NAME in fault and why in fault
