"""The package as a file: a frozen document in, bytes out; no rows, no clock."""

from webapp.pdf.attachments import Attachment, package_attachments
from webapp.pdf.field_sheets import render_field_sheets
from webapp.pdf.labels import render_labels
from webapp.pdf.package import render_package
from webapp.pdf.safety_sheets import render_safety_sheets
from webapp.pdf.signatures import SealBox, seal_boxes
from webapp.pdf.stamp import stamp

__all__ = [
    "Attachment",
    "SealBox",
    "package_attachments",
    "render_field_sheets",
    "render_labels",
    "render_package",
    "render_safety_sheets",
    "seal_boxes",
    "stamp",
]
