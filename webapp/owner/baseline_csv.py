"""The baseline as a CSV file: one point a row, the unit of each number beside it."""

from models.services.owner.gear_book import GearBook
from webapp.words.csv_cells import safe

# What people wrote: a spreadsheet must not take it for a formula.
TEXTS = [
    "site",
    "lineup",
    "cell",
    "apparatus",
    "maker",
    "type",
    "serial",
    "procedure",
    "detail",
    "point",
    "baseline_round",
    "latest_round",
]


def baseline_csv(book: GearBook) -> str:
    """Return the file; a number without a value is blank.

    A bound says what an off-scale reading knows: `at_least` or `at_most`. A text
    of people's that a spreadsheet took for a formula begins with '.
    """
    from models.analysis.baseline_file import baseline_file  # noqa: PLC0415 (pandas)

    frame = baseline_file(
        book.table,
        site=book.site_name,
        lineup=book.name,
        baseline_round=book.baseline_round.title if book.baseline_round else "",
        latest_round=book.latest_round or "",
    )
    frame[TEXTS] = frame[TEXTS].map(safe, na_action="ignore")
    text: str = frame.to_csv(index=False, lineterminator="\r\n")
    return text
