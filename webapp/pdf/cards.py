"""The card sheets: a section for each card, each reading with its working."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.drawing.curve import Timed, time_current
from webapp.drawing.figures import number
from webapp.drawing.shapes import Line, Rect, Text
from webapp.pdf import conditions, times
from webapp.pdf.book import LEFT, RIGHT, TOP, WIDTH, Book, lines_of
from webapp.pdf.faces import leading_of
from webapp.pdf.readings import reading_heads, reading_rows
from webapp.pdf.sources import Sources

STATES = {
    "signed": "signed as performed",
    "withdrawn": "withdrawn",
    "returned": "returned to the technician",
    "begun": "begun, not signed",
    "not_begun": "not begun",
}
FIELD_HEIGHT = 27.0
FIELDS_A_ROW = 4
CURVE_HEIGHT = 196.0

Doc = Mapping[str, Any]


def cards(book: Book, document: Doc) -> None:
    """Put down a section for each card, one after the other."""
    for n, card in enumerate(document["cards"]):
        if n == 0:
            book.begin("Cards")
        _card(book, document, card)


def _card(book: Book, document: Doc, card: Doc) -> None:
    if book.y > TOP:
        book.gap(16)
    book.need(190)
    name = f"{card['sheet']} · Cell {card['cell']} · {card['apparatus']}"
    book.mark(f"{name} · {card['title']}", 1)
    _head(book, card, name)

    def again() -> None:
        book.text(f"Card {name}, continued", "subheading")
        book.y += 4

    with book.repeating(again):
        _method(book, card)
        _preconditions(book, card, document["zone"])
        _readings(book, document, card)
        _notes(book, card, document["zone"])
        _signatures(book, card, document["zone"])


def _head(book: Book, card: Doc, name: str) -> None:
    rows = lines_of(f"Card {name}", "heading", WIDTH - 130)
    leading = leading_of("heading")
    height = leading * len(rows) + leading_of("body") + 10
    book.put(
        Rect(LEFT, book.y, WIDTH, height, "ground"),
        Line(LEFT, book.y, RIGHT, book.y, "strong-rule"),
    )
    state = STATES.get(card["state"], card["state"])
    book.put(Text(RIGHT - 8, book.y + 15, state, "body-strong", "end"))
    for n, words in enumerate(rows):
        book.put(Text(LEFT + 8, book.y + 15 + leading * n, words, "heading"))
    title = ": ".join(filter(None, (card["title"], card["detail"])))
    said = lines_of(title, "body", WIDTH - 16)[0]
    book.put(Text(LEFT + 8, book.y + 15 + leading * len(rows) - 2, said, "body"))
    book.y += height + 6


def _method(book: Book, card: Doc) -> None:
    withdrawn = card.get("withdrawn")
    if withdrawn:
        book.text(
            f"Withdrawn by {withdrawn['by']}: {withdrawn['reason']}", "body-strong"
        )
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
        codes = ", ".join(dict.fromkeys(one["code"] for one in members))
        when = times.span((one["at"] for one in members), zone)
        book.text(f"Preconditions {word} by {by}, {when}: {codes}.", "small-ink")
    book.y += 4


def _readings(book: Book, document: Doc, card: Doc) -> None:
    readings = card["readings"]
    if not readings:
        book.text("No reading was taken.", "body-strong")
        return
    shared = conditions.common(readings)
    _fields(book, card, shared, document["zone"])
    _curve(book, card)
    sources = Sources(readings)
    book.need(60)
    reading_heads(book)
    with book.repeating(lambda: reading_heads(book)):
        reading_rows(book, document, card, shared, sources)
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
    for start in range(0, len(fields), FIELDS_A_ROW):
        _field_row(book, fields[start : start + FIELDS_A_ROW])
    book.y += 6


def _field_row(book: Book, fields: Sequence[tuple[str, str]]) -> None:
    width = WIDTH / FIELDS_A_ROW
    deep = max(len(lines_of(v, "body-strong", width - 12)) for _, v in fields)
    height = FIELD_HEIGHT + (deep - 1) * leading_of("body")
    book.need(height)
    book.put(Rect(LEFT, book.y, WIDTH, height, "frame-thin"))
    for n, (label, value) in enumerate(fields):
        x = LEFT + n * width
        if n:
            book.put(Line(x, book.y, x, book.y + height, "hairline"))
        name = lines_of(label, "tiny", width - 10)[0]
        book.put(Text(x + 6, book.y + 9, name, "tiny"))
        for m, words in enumerate(lines_of(value, "body-strong", width - 12)):
            y = book.y + 20 + m * leading_of("body")
            book.put(Text(x + 6, y, words, "body-strong"))
    book.y += height


def _curve(book: Book, card: Doc) -> None:
    """Draw the relay's curve where the rule of its readings has one."""
    timed: dict[str, tuple[Doc, list[Timed]]] = {}
    for reading in card["readings"]:
        rule = reading.get("rule")
        applied_a = number(reading["conditions"], "applied_a")
        if not rule or reading["superseded_by"] or applied_a is None:
            continue
        judgement = reading["judgement"]
        seen = Timed(
            label=reading["point"],
            applied_a=applied_a,
            seconds=number(judgement, "corrected"),
            verdict=judgement["verdict"],
        )
        timed.setdefault(str(rule["bounds"]), (rule, []))[1].append(seen)
    for rule, points in timed.values():
        drawing = time_current(rule, points, width=WIDTH, height=CURVE_HEIGHT + 40)
        if drawing is None:
            continue
        book.need(drawing.height)
        book.place(drawing, LEFT, book.y)
        book.y += drawing.height + 6


def _sources(book: Book, sources: Sources) -> None:
    if not sources.all:
        return
    book.y += 4
    for n, words in enumerate(sources.all, start=1):
        lines = lines_of(words, "small", WIDTH - 22)
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
