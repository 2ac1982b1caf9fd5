"""The verdicts that would change as a CSV file: one reading a row."""

import csv
from io import StringIO

from models.services.rejudge_preview import Preview

HEADER = (
    "site",
    "lineup",
    "round",
    "cell",
    "apparatus",
    "procedure",
    "point",
    "typed",
    "unit",
    "verdict_now",
    "asked_now",
    "verdict_then",
    "asked_then",
)


def preview_csv(preview: Preview) -> str:
    """Return the file; what a rule asks is said in words, with its source."""
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(HEADER)
    for line in preview.lines:
        writer.writerow(
            [
                *(line.site, line.lineup, line.round, line.cell, line.apparatus),
                *(line.procedure, line.point, line.text, line.unit or ""),
                *(line.was, "; ".join(line.was_asked)),
                *(line.now, "; ".join(line.now_asked)),
            ]
        )
    return out.getvalue()
