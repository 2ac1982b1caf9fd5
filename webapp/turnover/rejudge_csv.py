"""The verdicts that would change as a CSV file: one reading a row."""

import csv
from io import StringIO

from models.services.criteria.rejudge_preview import Preview
from webapp.words.csv_cells import safe

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
    """Return the file; what a rule asks is said in words, with its source.

    A text of people's that a spreadsheet took for a formula begins with '.
    """
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(HEADER)
    for line in preview.lines:
        writer.writerow(
            [
                *map(safe, (line.site, line.lineup, line.round, line.cell)),
                *map(safe, (line.apparatus, line.procedure, line.point)),
                *(line.text, line.unit or ""),
                *(line.was, safe("; ".join(line.was_asked))),
                *(line.now, safe("; ".join(line.now_asked))),
            ]
        )
    return out.getvalue()
