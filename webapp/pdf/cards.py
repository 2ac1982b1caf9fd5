"""The card sheets: a section for each card, each reading with its working."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.drawing.curve import time_current
from webapp.drawing.figures import number
from webapp.drawing.shapes import Drawing, Line, Rect, Text
from webapp.drawing.timed import Timed, fit_lines
from webapp.pdf import times
from webapp.pdf.book import BOTTOM, LEFT, RIGHT, TOP, WIDTH, Book, lines_of
from webapp.pdf.faces import leading_of
from webapp.pdf.numbering import code_runs, runs
from webapp.pdf.readings import reading_heads, reading_rows
from webapp.pdf.rows import reading_blocks
from webapp.pdf.sources import Sources
from webapp.words import conditions

STATES = {
    "signed": "signed as performed",
    "withdrawn": "withdrawn",
    "returned": "returned to the technician",
    "begun": "begun, not signed",
    "not_begun": "not begun",
}
HEAD_WIDTH = WIDTH - 150.0  # the card's state stands beside its name
FIELDS_A_ROW = 5
CURVE_HEIGHT = 236.0
CURVE_TIMES = 0.8
FIT_LINES = 3  # of words below a curve
FEWEST = 190.0  # of a card on a page: less is not worth beginning

Doc = Mapping[str, Any]
Curve = tuple[Drawing, list[str]]  # with the sentences of what its times fit


def cards(book: Book, document: Doc) -> None:
    """Put down a section for each card, one after the other."""
    if not document["cards"]:
        return
    book.begin("Cards")
    on_page: dict[int, list[int]] = {}
    for card in document["cards"]:
        first = _card(book, document, card)
        for page in range(first, len(book.pages)):
            on_page.setdefault(page, []).append(card["sheet"])
    for page, sheets in on_page.items():
        word = "Card" if len(sheets) == 1 else "Cards"
        book.pages[page].title = f"{word} {runs(sheets)}"


def _card(book: Book, document: Doc, card: Doc) -> int:
    """Put down a card; return the index of the page it begins on."""
    if book.y > TOP:
        book.gap(16)
    curves = _curves(card)
    book.need(FEWEST + (CURVE_HEIGHT * CURVE_TIMES if curves else 0.0))
    name = f"{card['sheet']} · Cell {card['cell']} · {card['apparatus']}"
    book.mark(f"{name} · {card['title']}", 1)
    _head(book, card, name)
    first = len(book.pages) - 1

    def again() -> None:
        book.text(f"Card {name}, continued", "subheading")
        book.y += 4

    with book.repeating(again):
        _method(book, card)
        _preconditions(book, card, document["zone"])
        _readings(book, document, card, curves)
        _notes(book, card, document["zone"])
        _signatures(book, card, document["zone"])
    return first


def _head(book: Book, card: Doc, name: str) -> None:
    title = ": ".join(filter(None, (card["title"], card["detail"])))
    rows = [(row, "heading") for row in lines_of(f"Card {name}", "heading", HEAD_WIDTH)]
    rows += [(row, "body") for row in lines_of(title, "body", WIDTH - 16)]
    height = sum(leading_of(style) for _, style in rows) + 9
    book.put(
        Rect(LEFT, book.y, WIDTH, height, "ground"),
        Line(LEFT, book.y, RIGHT, book.y, "strong-rule"),
    )
    state = STATES[card["state"]]
    book.put(Text(RIGHT - 8, book.y + 15, state, "body-strong", "end"))
    y = book.y + 3
    for words, style in rows:
        y += leading_of(style)
        book.put(Text(LEFT + 8, y - 3, words, style))
    book.y += height + 6


def _method(book: Book, card: Doc) -> None:
    withdrawn = card.get("withdrawn")
    if withdrawn:
        answer = withdrawn.get("answer")
        agreed = f" Agreed by {answer['by']}." if answer else ""
        said = f"Withdrawn by {withdrawn['by']}: {withdrawn['reason']}"
        book.text(f"{said}{agreed}", "body-strong")
    if card["method"]:
        book.text(card["method"], "small")
        book.y += 3


def _preconditions(book: Book, card: Doc, zone: str) -> None:
    """Name who answered the preconditions and when; the items have their own sheet."""
    groups: dict[tuple[str, str], list[Doc]] = {}
    for one in card["preconditions"]:
        groups.setdefault((one["state"], one["by"]), []).append(one)
    if not groups:
        book.text("Preconditions: none answered.", "small-strong")
    for (state, by), members in groups.items():
        word = "not applicable" if state == "not_applicable" else "confirmed"
        codes = code_runs(dict.fromkeys(one["code"] for one in members))
        when = times.span((one["at"] for one in members), zone)
        book.text(f"Preconditions {word} by {by}, {when}: {codes}.", "small-ink")
    book.y += 4


def _readings(book: Book, document: Doc, card: Doc, curves: Sequence[Curve]) -> None:
    readings = card["readings"]
    if not readings:
        book.text("No reading was taken.", "body-strong")
        return
    shared = conditions.common(readings)
    _fields(book, card, shared, document["zone"])
    for drawing, fit in curves:
        book.need(drawing.height * CURVE_TIMES + FIT_LINES * leading_of("small-ink"))
        book.place(drawing, LEFT, book.y, CURVE_TIMES)
        book.y += drawing.height * CURVE_TIMES + 6
        for line in fit:
            book.text(line, "small-ink")
        book.y += 4
    sources = Sources(readings)
    book.need(60)
    reading_heads(book)
    with book.repeating(lambda: reading_heads(book)):
        reading_rows(book, document, card, shared, sources)
    reading_blocks(book, readings)
    _sources(book, sources)


def _fields(book: Book, card: Doc, shared: Mapping[str, Any], zone: str) -> None:
    """Put down the shared conditions as a strip of fields."""
    readings = card["readings"]
    tags = ", ".join(dict.fromkeys(r["instrument"] for r in readings))
    people = ", ".join(dict.fromkeys(r["by"] for r in readings))
    fields = [
        *conditions.said(card["procedure"], shared),
        ("Instrument", tags),
        ("Read by", people),
        ("Taken", times.span((r["taken_at"] for r in readings), zone)),
    ]
    rows = -(-len(fields) // FIELDS_A_ROW)
    a_row = -(-len(fields) // rows)
    for start in range(0, len(fields), a_row):
        _field_row(book, fields[start : start + a_row])
    book.y += 6


def _field_row(book: Book, fields: Sequence[tuple[str, str]]) -> None:
    """Put down fields side by side: label above, value below, both wrapped."""
    width = WIDTH / len(fields)
    labels = [lines_of(label, "tiny", width - 12) for label, _ in fields]
    values = [lines_of(value, "body-strong", width - 12) for _, value in fields]
    small, large = leading_of("tiny"), leading_of("body-strong")
    base = book.y + 3 + small * max(map(len, labels))
    height = base - book.y + large * max(map(len, values)) + 5
    if book.y + height > BOTTOM:
        book.turn()
        base = book.y + 3 + small * max(map(len, labels))
    book.put(Rect(LEFT, book.y, WIDTH, height, "frame-thin"))
    for n, (label, value) in enumerate(zip(labels, values, strict=True)):
        x = LEFT + n * width
        if n:
            book.put(Line(x, book.y, x, book.y + height, "hairline"))
        for m, words in enumerate(label):
            book.put(Text(x + 6, book.y + 2 + small * (m + 0.9), words, "tiny"))
        for m, words in enumerate(value):
            book.put(Text(x + 6, base + large * (m + 0.85), words, "body-strong"))
    book.y += height


def _curves(card: Doc) -> list[Curve]:
    """Return the relay's curve where the rules of its readings have one.

    A relay whose setting was changed half-way has two, each with its own fit.
    """
    found: dict[str, tuple[Doc, list[Timed]]] = {}
    for reading in card["readings"]:
        rule = card["rules"][reading["rule"]]
        applied_a = number(reading["conditions"], "applied_a")
        if reading["superseded_by"] or applied_a is None:
            continue
        judgement = reading["judgement"]
        seen = Timed(
            label=reading["point"],
            applied_a=applied_a,
            seconds=number(judgement, "corrected"),
            verdict=judgement["verdict"],
            exact=not reading["text"].strip().startswith((">", "<")),
            pickup_a=number(reading["conditions"], "measured_pickup_a"),
        )
        found.setdefault(str(rule["bounds"]), (rule, []))[1].append(seen)
    drawn = [
        (
            time_current(rule, seen, width=WIDTH / CURVE_TIMES, height=CURVE_HEIGHT),
            fit_lines(rule, seen),
        )
        for rule, seen in found.values()
    ]
    return [(drawing, fit) for drawing, fit in drawn if drawing is not None]


def _sources(book: Book, sources: Sources) -> None:
    if not sources.all:
        return
    book.y += 4
    for n, words in enumerate(sources.all, start=1):
        lozenge = "◇ " if words in sources.recalled else ""
        lines = lines_of(f"{lozenge}{words}", "small", WIDTH - 22)
        leading = leading_of("small")
        book.need(leading * len(lines))
        book.put(Text(LEFT + 4, book.y + leading * 0.8, f"[{n}]", "small"))
        for m, line in enumerate(lines):
            book.put(Text(LEFT + 22, book.y + leading * (m + 0.8), line, "small"))
        book.y += leading * len(lines)


def _notes(book: Book, card: Doc, zone: str) -> None:
    for note in card["notes"]:
        book.gap(3)
        book.text(
            f"Note by {note['by']}, {times.at(note['at'], zone)}: {note['text']}",
            "small-ink",
        )


def _signatures(book: Book, card: Doc, zone: str) -> None:
    book.gap(5)
    if not card["signatures"]:
        book.text("This card is not signed.", "body-strong")
    for one in card["signatures"]:
        book.need(30)
        when = times.at(one["at"], zone)
        book.text(f"Signed as {one['meaning']} by {one['by']}, {when}", "body-strong")
        book.text(f"key {one['key']}", "mono-small")
