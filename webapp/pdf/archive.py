"""Make a PDF an archive file: PDF/A-3b with the data inside (ISO 19005-3)."""

import io
from collections.abc import Sequence
from datetime import UTC, datetime
from functools import lru_cache

import pikepdf
from pikepdf.models.metadata import encode_pdf_date
from PIL import ImageCms

from webapp.pdf.attachments import Attachment

LANGUAGE = "en-GB"
MADE_BY = "Witnessmark"
INFO = ("/Title", "/Author", "/Producer", "/Creator", "/CreationDate", "/ModDate")
# Offset of the date in an ICC header (ICC.1:2022, 7.2): littlecms writes today there.
ICC_DATE = slice(24, 36)
ICC_DATE_FIXED = bytes((0x07, 0xE0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0))


def to_archive(
    pdf: bytes,
    *,
    title: str,
    author: str,
    made_at: datetime,
    attachments: Sequence[Attachment],
) -> bytes:
    """Return *pdf* as PDF/A-3b with *attachments*; the same input, the same bytes."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        _colours(opened)
        _attach(opened, attachments, made_at)
        _describe(opened, title, author, made_at)
        opened.save(
            out,
            force_version="1.7",
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            deterministic_id=True,
        )
    return out.getvalue()


@lru_cache(maxsize=1)
def _srgb() -> bytes:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    dated = bytearray(profile)
    dated[ICC_DATE] = ICC_DATE_FIXED
    return bytes(dated)


def _colours(pdf: pikepdf.Pdf) -> None:
    """Say what the colours mean: the output intent that PDF/A asks for."""
    icc = pikepdf.Stream(pdf, _srgb())
    icc.N = 3
    intent = pikepdf.Dictionary(
        Type=pikepdf.Name.OutputIntent,
        S=pikepdf.Name.GTS_PDFA1,
        OutputConditionIdentifier=pikepdf.String("sRGB"),
        Info=pikepdf.String("sRGB IEC61966-2.1"),
        DestOutputProfile=icc,
    )
    pdf.Root.OutputIntents = pikepdf.Array([pdf.make_indirect(intent)])
    pdf.Root.Lang = pikepdf.String(LANGUAGE)


def _attach(
    pdf: pikepdf.Pdf, attachments: Sequence[Attachment], made_at: datetime
) -> None:
    when = encode_pdf_date(made_at)
    for one in attachments:
        pdf.attachments[one.name] = pikepdf.AttachedFileSpec(
            pdf,
            one.data,
            filename=one.name,
            mime_type=one.mime,
            description=one.description,
            relationship=pikepdf.Name(f"/{one.relationship}"),
            creation_date=when,
            mod_date=when,
        )


def _describe(pdf: pikepdf.Pdf, title: str, author: str, made_at: datetime) -> None:
    stamp = made_at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S+00:00")
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=True) as meta:
        meta["dc:title"] = title
        meta["dc:creator"] = [author]
        meta["pdf:Producer"] = MADE_BY
        meta["xmp:CreatorTool"] = MADE_BY
        meta["pdfaid:part"] = "3"
        meta["pdfaid:conformance"] = "B"
        for name in ("xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate"):
            meta[name] = stamp
    for name in list(pdf.docinfo.keys()):
        if name not in INFO:
            del pdf.docinfo[name]
