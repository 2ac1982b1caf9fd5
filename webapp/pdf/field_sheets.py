"""Blank field sheets: a card to write on by hand, printed before it is needed."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from webapp.drawing.shapes import Line, Rect, Text
from webapp.pdf import times
from webapp.pdf.archive import to_archive
from webapp.pdf.faces import leading_of
from webapp.pdf.form_paint import paint_form
from webapp.pdf.form_rows import form_lines
from webapp.pdf.sheets import LEFT, RIGHT, WIDTH, Sheets, lines_of

ROW = 23.0  # of a line to write on
BOX = 8.0  # to tick
# (head, share of the width) of the readings
COLUMNS = (
    ("Point", 1.6),
    ("Reading, as the instrument shows it", 2.8),
    ("Unit", 1.4),
    ("Time", 0.9),
    ("Remark; why measured again", 2.6),
)
NO_RECORD = (
    "A blank sheet is no record. Type what is written here into the card as soon as "
    "there is a tablet, and attach a picture of this sheet to it."
)
WIDER = "Crew, clearance and cell stand on the safety sheet"
SHORT = 18  # letters of what stands on a line to write on, at its full size
ROW_HEAD, CELLS = 150.0, 8  # of a row of readings: its head, and how many cells
AGAIN = 2  # empty rows for what is measured again

Doc = Mapping[str, Any]


def render_field_sheets(document: Doc) -> bytes:
    """Return the sheets as PDF/A-3b; the same document gives the same bytes."""
    sheets = Sheets()
    for card in document["cards"]:
        _card(sheets, card, document["disclaimer"])
    site, lineup = document["site"]["name"], document["lineup"]["name"]
    printed = times.at(document["made_at"], document["zone"])
    return to_archive(
        paint_form(
            sheets, document, f"Blank field sheet, no record · printed {printed}"
        ),
        title=f"Field sheets, {site}, lineup {lineup}, {document['round']['title']}",
        author=site,
        made_at=datetime.fromisoformat(document["made_at"]),
        attachments=(),
    )


def _card(sheets: Sheets, card: Doc, disclaimer: str) -> None:
    sheets.begin(f"Card {card['number']}")
    sheets.text(f"Card {card['number']} · {card['where']}", "heading")
    sheets.text(" · ".join(filter(None, (card["detail"], card["identity"]))), "body")
    sheets.text(card["method"], "small")
    sheets.text(disclaimer, "small")
    sheets.y += 4
    _lines(sheets, ("Day", "Begun", "Ended", "Taken by"), card["assigned_to"])
    _items(sheets, "Before the test: tick and initial each", card["before"])
    _lists(sheets, card["lists"], "before", "Before the first reading")
    _conditions(sheets, card["conditions"])
    _limits(sheets, card)
    _readings(sheets, card)
    _items(sheets, "After the test: tick and initial each", card["after"])
    _lists(sheets, card["lists"], "after", "After the last reading")
    sheets.need(2 * ROW + 20)
    _lines(sheets, ("Performed by, in letters", "Signature", "Day and time"))
    sheets.text(NO_RECORD, "small-strong")


def _lines(sheets: Sheets, names: Sequence[str], last: str = "") -> None:
    """Put down names with a line after each; *last* is written on the last."""
    sheets.need(ROW)
    each = WIDTH / len(names)
    sheets.y += ROW
    for n, name in enumerate(names):
        x, said = LEFT + n * each, lines_of(name, "small", each)[0]
        start = x + 4.0 * len(said) + 6
        sheets.put(
            Text(x, sheets.y - 3, said, "small"),
            Line(start, sheets.y, x + each - 8, sheets.y, "hairline"),
        )
        if last and n == len(names) - 1:
            sheets.put(Text(start + 3, sheets.y - 3, last, "body"))
    sheets.y += 6


def _items(sheets: Sheets, head: str, items: Sequence[tuple[str, str]]) -> None:
    """Put down what is to be confirmed, each with a box and a line for initials."""
    if not items:
        return
    sheets.heading(head, "subheading", 30)
    room = WIDTH - 100
    leading = leading_of("small-ink")
    for code, words in items:
        rows = lines_of(words, "small-ink", room)
        height = max(BOX + 4, leading * len(rows) + 3)
        sheets.need(height)
        top = sheets.y + 2
        sheets.put(
            Rect(LEFT, top, BOX, BOX, "frame-thin"),
            Text(LEFT + BOX + 5, top + BOX - 1, code, "mono-small"),
            Line(RIGHT - 50, top + BOX + 1, RIGHT, top + BOX + 1, "hairline"),
            *(
                Text(LEFT + 44, top + 7 + leading * n, row, "small-ink")
                for n, row in enumerate(rows)
            ),
        )
        sheets.y += height


def _lists(sheets: Sheets, lists: Sequence[Doc], part: str, head: str) -> None:
    """Put down the lines of the card's own scope, for each supply or method."""
    for one in lists:
        if not one[part]:
            continue
        words = f"{head}, {one['choice']}" if one["choice"] else head
        sheets.heading(words, "subheading", 40)
        form_lines(sheets, one[part], WIDER if part == "before" else "")
        sheets.y += 4


def _conditions(
    sheets: Sheets, conditions: Sequence[tuple[str, str, str, str]]
) -> None:
    sheets.heading("Conditions and instrument", "subheading", ROW)
    asked = [
        *conditions,
        ("Instrument: tag and serial number", "", "", ""),
        ("Calibration due", "", "", ""),
    ]
    half = WIDTH / 2
    for n, (label, unit, begun, choices) in enumerate(asked):
        if n % 2 == 0:
            sheets.need(ROW)
            sheets.y += ROW
        x = LEFT + (n % 2) * half
        end = x + half - 14
        size = "tiny" if len(begun) > SHORT else "body"
        sheets.put(
            Text(x, sheets.y - 3, label, "small"),
            Line(x + 150, sheets.y, end, sheets.y, "hairline"),
            Text(end, sheets.y - 3, unit, "small", "end"),
            Text(x + 153, sheets.y - 3, begun, size),
            *(
                Text(x, sheets.y + 5 + n * leading_of("tiny"), one, "tiny")
                for n, one in enumerate(lines_of(choices, "tiny", end - x))
            ),
        )
    sheets.y += 6


def _limits(sheets: Sheets, card: Doc) -> None:
    sheets.heading("What is wanted", "subheading", 24)
    for words in card["limits"]:
        sheets.text(f"– {words}", "small-ink")
    for words in card["sources"]:
        sheets.text(words, "small")
    if card["factors"]:
        said = "; ".join(f"{at} °C × {factor}" for at, factor in card["factors"])
        sheets.text(f"Factor by temperature: {said}", "small-ink")


def _readings(sheets: Sheets, card: Doc) -> None:
    rows = [(label, given) for label, given in card["points"]] + [("", "")] * AGAIN
    sheets.heading("Readings", "subheading", 2 * ROW)
    whole = sum(share for _, share in COLUMNS)
    places = []
    x = LEFT
    for head, share in COLUMNS:
        width = WIDTH * share / whole
        places.append((x, width, head))
        x += width

    def heads() -> None:
        sheets.y += leading_of("head")
        sheets.put(*(Text(x + 3, sheets.y - 2, head, "head") for x, _, head in places))
        sheets.y += 3
        sheets.line("strong-rule")

    heads()
    units = " / ".join(card["units"] or card["outcomes"])
    with sheets.repeating(heads):
        for label, given in rows:
            sheets.need(ROW + 4)
            top = sheets.y
            sheets.y += ROW
            sheets.put(
                *(Line(x, top, x, sheets.y, "hairline") for x, _, _ in places),
                Line(RIGHT, top, RIGHT, sheets.y, "hairline"),
                Text(places[0][0] + 3, top + 10, label, "body-strong"),
                Text(places[0][0] + 3, top + 19, given, "tiny"),
                Text(places[2][0] + 3, top + 10, units, "tiny"),
            )
            sheets.line()
    sheets.y += 4
    for row in card["rows"]:
        _row(sheets, row, [label for label, _ in card["points"]])


def _row(sheets: Sheets, row: Doc, labels: Sequence[str]) -> None:
    """Put down empty cells for a row of readings at each point: steps over values."""
    sheets.heading(row["title"], "subheading", 3 * ROW)
    width = (WIDTH - ROW_HEAD) / CELLS
    places = [LEFT, *(LEFT + ROW_HEAD + n * width for n in range(CELLS + 1))]
    longer = row["least"] >= CELLS  # such a row has two lines
    for label in [one for one in labels for _ in range(1 + longer)]:
        sheets.need(2 * ROW + 4)
        sheets.line()
        for name, what in ((label, row["step"]), ("", row["value"])):
            top = sheets.y
            sheets.y += ROW
            sheets.put(
                *(Line(x, top, x, sheets.y, "hairline") for x in places),
                Text(LEFT + 3, top + 10, name, "body-strong"),
                Text(LEFT + 3, top + 19, what, "tiny"),
            )
            sheets.line()
    sheets.y += 4
