"""The cover: does it conform, why, of what, by whom, and what that means."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from models.record.cells import cell_progress
from models.record.conformity import (
    CONFORMS,
    DOES_NOT,
    NOT_COMPLETE,
    WITH_DEVIATIONS,
    WORDS,
)
from models.record.editions import editions_sentence
from webapp.drawing.elevation import SIDE, Plate, elevation
from webapp.drawing.shapes import Polyline, Rect, Text
from webapp.drawing.styles import VERDICTS
from webapp.pdf import times
from webapp.pdf.numbering import runs
from webapp.pdf.plan import left_out
from webapp.pdf.safety_words import SHEET, cards_sentence
from webapp.pdf.sheets import BOTTOM, LEFT, RIGHT, WIDTH, Sheets
from webapp.pdf.standing import verdict_counts
from webapp.pdf.tables import Cell, Column, pairs, table

CELLS_A_ROW = 9
NARROWEST, WIDEST = 104.0, 126.0  # cells, before scaling
LARGE = 16  # letters of a word that goes in the largest size
BARS = {
    CONFORMS: "within-bar",
    WITH_DEVIATIONS: "marginal-bar",
    DOES_NOT: "outside-bar",
    NOT_COMPLETE: "unjudged-bar",
}
LARGEST, SMALLEST = 0.62, 0.5  # scales between which an elevation is read at ease
HEADING_ROOM = 34.0

Doc = Mapping[str, Any]

SAYS = (
    "Each reading stands as it was typed, with its conditions, the correction and its "
    "factor, the limit and the document the limit was taken from. A reading that was "
    "corrected stays, struck through, beside the one that took its place.",
    "CONFORMS means that every reading that holds is within its criterion, that every "
    "card of the programme is signed, and that no deficiency is open. CONFORMS WITH "
    "DEVIATIONS means the same but for what is listed on this cover, each decided by "
    "a named person; an outside reading is among them only where the round allowed "
    "it from its opening and a second person agreed. DOES NOT CONFORM means that a "
    "reading is not within its criterion, or a deficiency stops turnover, and that "
    "it is no such deviation. "
    "NOT COMPLETE means that something of the programme was not tested, or not signed. "
    "Where the accuracy of the instrument is known, a criterion is met only beyond the "
    "uncertainty U (k = 2); otherwise simple acceptance applies, and the working says "
    "which.",
)
SAYS_NOT = (
    "The results relate only to the items tested, as they were on the days stated. "
    "This record does not release the gear to be energized: that is for the person in "
    "charge, under the site's own rules. It says nothing about what was not tested. A "
    "limit or a source marked '◇ from memory' has not been compared with a published "
    "copy; one marked 'common practice' is no published requirement, and one marked "
    "'worked out from other figures' is no better than they are. The record is not to "
    "be copied except in full.",
)


def cover(sheets: Sheets, document: Doc, digest: str) -> None:
    """Put down the cover sheet."""
    sheets.begin("Cover")
    _head(sheets, document)
    _verdict(sheets, document)
    _deviations(sheets, document)
    left_out(sheets, document)
    _particulars(sheets, document)
    _summary(sheets, document)
    _elevations(sheets, document)
    sheets.heading("What this record says")
    for words in SAYS:
        sheets.text(words, "small-ink")
        sheets.y += 3
    sheets.heading("What it does not say")
    for words in SAYS_NOT:
        sheets.text(words, "small-ink")
    _governs(sheets, document)
    sheets.heading("The data inside", keep=60)
    sheets.text(_attached(document), "small-ink")
    sheets.y += 2
    sheets.text(f"SHA-256 of record.json: {digest}", "mono-small")


def _governs(sheets: Sheets, document: Doc) -> None:
    """Say whose rules govern, and what was found of the lines of this round."""
    safety = document.get("safety")
    if safety is None:
        sheets.heading("Preconditions, and whose rules govern")
        sheets.text(document["disclaimer"], "small-ink")
        return
    sheets.heading("Safety, and whose rules govern")
    sheets.text(f"{safety['rule_set_text']} {safety['governs']}".strip(), "small-ink")
    sheets.y += 3
    sheets.text(f"{cards_sentence(safety['cards'])} Sheet {SHEET}.", "small-ink")
    earlier = [card["sheet"] for card in document["cards"] if card["preconditions"]]
    if earlier:
        word = "Card" if len(earlier) == 1 else "Cards"
        sheets.text(
            f"{word} {runs(earlier)}: answered by the list in force before, sheet "
            f"Preconditions. {document['disclaimer']}",
            "small-ink",
        )


def _attached(document: Doc) -> str:
    safety = document.get("safety")
    lines = f"{safety['file']} (every line of sheet {SHEET}), " if safety else ""
    return (
        "Attached to this file: record.json (everything printed here, and the source "
        f"of every page), {lines}readings.csv with its description in "
        "datapackage.json, and the root certificate against which the signatures are "
        "checked."
    )


def _head(sheets: Sheets, document: Doc) -> None:
    top = sheets.y
    stripe = ((LEFT + 6, top), (LEFT + 34, top), (LEFT + 28, top + 8), (LEFT, top + 8))
    kind = document["round"]["kind"].replace("_", " ")
    sheets.put(
        Polyline(stripe, "stripe", closed=True),
        Text(LEFT + 42, top + 8, "Witnessmark", "subheading"),
        Text(RIGHT, top + 8, f"Revision {document['revision']}", "second", "end"),
    )
    sheets.y += 20
    sheets.text(f"{kind.capitalize()} test record: {document['site']['name']}", "title")
    lineup = document["lineup"]
    gear = lineup["gear"].replace("_", "-")
    sheets.text(
        f"Lineup {lineup['name']}, {gear} switchgear · {document['round']['title']}",
        "second",
    )
    if document["revision"]:
        sheets.text(
            f"Amendment: this revision {document['revision']} takes the place of "
            f"revision {document['revision'] - 1} of the same record, which stays as "
            "it was signed.",
            "body-strong",
        )
    sheets.y += 8


def _verdict(sheets: Sheets, document: Doc) -> None:
    found = document["conformity"]
    lines, word = found["reasons"], WORDS[found["word"]]
    style = "verdict-word-large" if len(word) <= LARGE else "verdict-word-long"
    top, height = sheets.y, 48 + 12 * len(lines)
    sheets.put(
        Rect(LEFT, top, WIDTH, height, "frame"),
        Rect(LEFT, top, 7, height, BARS[found["word"]]),
        Text(LEFT + 20, top + 34, word, style),
        *(
            Text(LEFT + 20, top + 51 + 12 * n, line, "body")
            for n, line in enumerate(lines)
        ),
    )
    sheets.y += height + 12


def _deviations(sheets: Sheets, document: Doc) -> None:
    """List what the round conforms with, and who let each stand."""
    found = document["conformity"]["deviations"]
    if not found:
        return
    rows: list[list[Cell]] = [
        [
            f"{one['what']}\n{one['where']}",
            f"{one['decided'].capitalize()}: {one['reason']}",
            _by(one, document["zone"]),
        ]
        for one in found
    ]
    columns = [
        Column(head="What deviates", share=3.0, style="small-ink"),
        Column(head="Decision and reason", share=3.4, style="small-ink"),
        Column(head="By", share=2.0, style="small-ink"),
    ]
    sheets.heading("Deviations")
    table(sheets, columns, rows)
    sheets.y += 10


def _by(deviation: Doc, zone: str) -> str:
    said = f"{deviation['by']}\n{times.at(deviation['at'], zone)}"
    if deviation["agreed_by"] is None:
        return said
    when = times.at(deviation["agreed_at"], zone)
    return f"{said}\nagreed by {deviation['agreed_by']}\n{when}"


def _particulars(sheets: Sheets, document: Doc) -> None:
    zone, round_ = document["zone"], document["round"]
    top, half = sheets.y, WIDTH / 2 - 10
    site, owner, firm = document["site"], document["owner"], document["firm"]
    editions = editions_sentence(document["editions"])
    pairs(
        sheets,
        [
            *([("Limits", editions)] if editions else []),
            ("Site", f"{site['name']}\n{site['address']}"),
            ("Owner", f"{owner['name']}\n{owner['address']}"),
            ("Tested by", f"{firm['name']}\n{firm['address']}"),
            ("Programme", round_["programme"]),
            ("Opened", times.at(round_["opened_at"], zone)),
            ("Readings", _between(round_, zone)),
            ("Record made", times.at(document["made_at"], zone)),
            ("Times", f"of the site, {zone}"),
        ],
        LEFT,
        half,
        78,
    )
    end, sheets.y = sheets.y, top
    pairs(sheets, document["lineup"]["nameplate"], LEFT + half + 20, half, 128)
    sheets.y = max(end, sheets.y) + 6


def _between(round_: Doc, zone: str) -> str:
    taken = (round_["first_reading_at"], round_["last_reading_at"])
    return times.span((t for t in taken if t), zone)


def _summary(sheets: Sheets, document: Doc) -> None:
    by_procedure: dict[str, list[Doc]] = {}
    for card in document["cards"]:
        by_procedure.setdefault(card["title"], []).append(card)
    rows = [_summary_row(title, cards) for title, cards in by_procedure.items()]
    rows.append(_summary_row("All", document["cards"]))
    sheets.heading("Readings and verdicts")
    columns = [Column(head="Procedure", share=2.9, style="body")]
    columns += [
        Column(head=head, share=1.2, anchor="end", style="mono")
        for head in ("cards", "readings", *VERDICTS, "superseded")
    ]
    table(sheets, columns, rows)


def _summary_row(title: str, cards: list[Doc]) -> list[Cell]:
    counts = [verdict_counts(card) for card in cards]
    each = [sum(c[verdict] for c in counts) for verdict in VERDICTS]
    superseded = sum(bool(r["superseded_by"]) for c in cards for r in c["readings"])
    return [title, *map(str, (len(cards), sum(each), *each, superseded))]


def _elevations(sheets: Sheets, document: Doc) -> None:
    """Put down the elevation, in rows where the lineup is long."""
    cells = document["cells"]
    if not cells:
        return
    plates = [_plate(document, cell) for cell in cells]
    a_row = -(-len(cells) // -(-len(cells) // CELLS_A_ROW))
    width = min(max((WIDTH / LARGEST - 2 * SIDE) / a_row, NARROWEST), WIDEST)
    for start in range(0, len(cells), a_row):
        drawing = elevation(
            cells[start : start + a_row],
            plates=plates[start : start + a_row],
            gear=document["lineup"]["gear"],
            cell_width=width,
            cut_left=start > 0,
            cut_right=start + a_row < len(cells),
        )
        scale = min(LARGEST, WIDTH / drawing.width)
        if start == 0:
            scale = _squeezed(sheets, drawing.height, scale)
            sheets.heading("Front elevation, with the findings", keep=0)
        sheets.need(drawing.height * scale)
        sheets.place(drawing, LEFT, sheets.y, scale)
        sheets.y += drawing.height * scale + 4


def _squeezed(sheets: Sheets, height: float, scale: float) -> float:
    """Return the scale at which the first row still goes on this page.

    Where that would be too small to read, a fresh page is begun.
    """
    fits = (BOTTOM - sheets.y - HEADING_ROOM) / height
    if fits < min(scale, SMALLEST):
        sheets.turn()
        return scale
    return min(scale, fits)


def _plate(document: Doc, cell: Doc) -> Plate:
    """Return the cell's plate: cards done, readings that are not within."""
    where = f"{cell['number']} {cell['name']}"
    cards = [card for card in document["cards"] if card["cell"] == where]
    progress = cell_progress([card["state"] for card in cards])
    found: Counter[str] = sum((verdict_counts(card) for card in cards), Counter())
    return Plate(
        text=progress.text,
        share=progress.share,
        findings=[(v, found[v]) for v in VERDICTS[1:] if found[v]]
        or ([("within", found["within"])] if found["within"] else []),
    )
