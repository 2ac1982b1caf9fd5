"""What the demo's people attach: certificates and a sketch, made here and invented."""

from collections.abc import Callable
from datetime import datetime
from io import BytesIO
from uuid import UUID, uuid4

from PIL import Image, ImageDraw
from sqlalchemy.orm import Session

from models.files.store import FileStore
from models.services.keeping.attachments import attach
from seed_demo.instruments import INSTRUMENTS, LABORATORY, certificate_no
from seed_demo.people import ADMINISTRATOR, TECHNICIAN, fixed_id

PAPER, INK, BRASS, RED = "#e9e7e1", "#2b2f33", "#b08d4f", "#b3261e"


def attach_certificates(
    session: Session, store: FileStore, year: int, now: datetime
) -> None:
    """Attach the certificate of that *year*'s calibration to each that has one."""
    for tag, name, serial, *_ in INSTRUMENTS[:3]:
        number = certificate_no(serial, year)
        lines = [
            "Certificate of calibration",
            f"No. {number}",
            f"{tag}, {name}, serial {serial}",
            f"Calibrated on 3 March {year} at 23 °C",
            "As found: within its stated accuracy on every range",
            LABORATORY,
            "Made up for the demo: this certifies nothing.",
        ]
        attach(
            session,
            store,
            person_id=ADMINISTRATOR.id,
            subject="calibration",
            subject_id=fixed_id(f"{tag} {year}"),
            name=f"{number}.pdf",
            source=BytesIO(certificate(lines)),
            note="Certificate as it came from the laboratory",
            now=now,
            new_id=uuid4,
        )


def attach_sketch(
    session: Session, store: FileStore, deficiency_id: UUID, now: datetime
) -> None:
    """Attach the technician's drawing of the blade to the deficiency."""
    attach(
        session,
        store,
        person_id=TECHNICIAN.id,
        subject="deficiency",
        subject_id=deficiency_id,
        name="blade-C-of-89-1.png",
        source=BytesIO(blade_sketch()),
        note="Blades closed, seen from the front: C stops short of its jaw",
        now=now,
        new_id=uuid4,
    )


def certificate(lines: list[str]) -> bytes:
    """Return a page of A5 with these lines as a PDF."""
    from reportlab.lib.pagesizes import A5  # noqa: PLC0415
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    file = BytesIO()
    page = Canvas(file, pagesize=A5, invariant=1)
    page.rect(28, 28, A5[0] - 56, A5[1] - 56)
    page.setFont("Helvetica-Bold", 16)
    height = A5[1] - 90.0
    for line in lines:
        page.drawString(48, height, line)
        page.setFont("Helvetica", 10.5)
        height -= 30
    page.save()
    return file.getvalue()


def blade_sketch() -> bytes:
    """Return a PNG of three closed blades, the third not fully in its jaw."""
    picture = Image.new("RGB", (960, 640), PAPER)
    draw = ImageDraw.Draw(picture)
    for at, phase in enumerate("ABC"):
        _blade(draw.rectangle, draw.line, 170 + 300 * at, short=phase == "C")
        draw.text((155 + 300 * at, 560), phase, fill=INK, font_size=44)
    draw.ellipse((700, 60, 840, 230), outline=RED, width=6)
    draw.text((560, 20), "about 8 mm short", fill=RED, font_size=34)
    file = BytesIO()
    picture.save(file, "png")
    return file.getvalue()


def _blade(
    rectangle: Callable[..., None],
    line: Callable[..., None],
    x: int,
    *,
    short: bool,
) -> None:
    """Draw one pole: the jaw above, the blade, and the hinge below."""
    top = 190 if short else 130
    rectangle((x - 46, 90, x - 16, 190), outline=INK, fill="#c9c5bb", width=4)
    rectangle((x + 16, 90, x + 46, 190), outline=INK, fill="#c9c5bb", width=4)
    rectangle((x - 14, top, x + 14, 470), outline=INK, fill=BRASS, width=4)
    rectangle((x - 40, 450, x + 40, 520), outline=INK, fill="#c9c5bb", width=4)
    line((x - 90, 540, x + 90, 540), fill=INK, width=4)
