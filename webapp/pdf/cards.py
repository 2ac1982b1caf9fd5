"""The card sheets: a section for each card, each reading with its working."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.drawing.characteristic import characteristic
from webapp.drawing.curve import time_current
from webapp.drawing.dial import dial
from webapp.drawing.figures import number
from webapp.drawing.seen import on_card
from webapp.drawing.shapes import Drawing, Line, Rect, Text
from webapp.drawing.timed import Timed, fit_lines
from webapp.pdf import times
from webapp.pdf.faces import leading_of
from webapp.pdf.inspections import inspection_words
from webapp.pdf.numbering import code_runs, runs
from webapp.pdf.readings import reading_heads, reading_rows
from webapp.pdf.rows import reading_blocks
from webapp.pdf.safety_words import card_line
from webapp.pdf.sheets import BOTTOM, LEFT, RIGHT, TOP, WIDTH, Sheets, lines_of
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


def cards(sheets: Sheets, document: Doc) -> None:
    """Put down a section for each card, one after the other."""
    if not document["cards"]:
        return
    sheets.begin("Cards")
    on_page: dict[int, list[int]] = {}
    for card in document["cards"]:
        first = _card(sheets, document, card)
        for page in range(first, len(sheets.pages)):
            on_page.setdefault(page, []).append(card["sheet"])
    for page, numbers in on_page.items():
        word = "Card" if len(numbers) == 1 else "Cards"
        sheets.pages[page].title = f"{word} {runs(numbers)}"


def _card(sheets: Sheets, document: Doc, card: Doc) -> int:
    """Put down a card; return the index of the page it begins on."""
    if sheets.y > TOP:
        sheets.gap(16)
    curves = _curves(card)
    sheets.need(FEWEST + (CURVE_HEIGHT * CURVE_TIMES if curves else 0.0))
    name = f"{card['sheet']} · Cell {card['cell']} · {card['apparatus']}"
    sheets.mark(f"{name} · {card['title']}", 1)
    _head(sheets, card, name)
    first = len(sheets.pages) - 1

    def again() -> None:
        sheets.text(f"Card {name}, continued", "subheading")
        sheets.y += 4

    with sheets.repeating(again):
        _method(sheets, card)
        _preconditions(sheets, card, document["zone"])
        _inspections(sheets, card, document["zone"])
        _readings(sheets, document, card, curves)
        _notes(sheets, card, document["zone"])
        _signatures(sheets, card, document["zone"])
    return first


def _head(sheets: Sheets, card: Doc, name: str) -> None:
    title = ": ".join(filter(None, (card["title"], card["detail"])))
    rows = [(row, "heading") for row in lines_of(f"Card {name}", "heading", HEAD_WIDTH)]
    rows += [(row, "body") for row in lines_of(title, "body", WIDTH - 16)]
    if said := _identity(card):
        rows += [(row, "small") for row in lines_of(said, "small", WIDTH - 16)]
    height = sum(leading_of(style) for _, style in rows) + 9
    sheets.put(
        Rect(LEFT, sheets.y, WIDTH, height, "ground"),
        Line(LEFT, sheets.y, RIGHT, sheets.y, "strong-rule"),
    )
    state = STATES[card["state"]]
    sheets.put(Text(RIGHT - 8, sheets.y + 15, state, "body-strong", "end"))
    y = sheets.y + 3
    for words, style in rows:
        y += leading_of(style)
        sheets.put(Text(LEFT + 8, y - 3, words, style))
    sheets.y += height + 6


def _identity(card: Doc) -> str:
    """Return what tells the apparatus from its like, in one line; empty for nothing."""
    known = card.get("identity") or {}
    parts = (
        f"Serial number {known['serial']}" if known.get("serial") else "",
        known.get("maker") or "",
        known.get("type") or "",
        f"built {known['built_year']}" if known.get("built_year") else "",
    )
    return " · ".join(filter(None, parts))


def _method(sheets: Sheets, card: Doc) -> None:
    withdrawn = card.get("withdrawn")
    if withdrawn:
        answer = withdrawn.get("answer")
        agreed = f" Agreed by {answer['by']}." if answer else ""
        said = f"Withdrawn by {withdrawn['by']}: {withdrawn['reason']}"
        sheets.text(f"{said}{agreed}", "body-strong")
    if card["method"]:
        sheets.text(card["method"], "small")
        sheets.y += 3


def _inspections(sheets: Sheets, card: Doc, zone: str) -> None:
    """Say for each hold, witness and review point whom it waited for and what came."""
    for point in card.get("inspections", ()):
        sheets.text(inspection_words(point, zone), "small-ink")
    if card.get("inspections"):
        sheets.y += 4


def _preconditions(sheets: Sheets, card: Doc, zone: str) -> None:
    """Name who answered the preconditions and when; the items have their own sheet.

    A card that went by scopes says on what it rested, in one line.
    """
    groups: dict[tuple[str, str], list[Doc]] = {}
    for one in card["preconditions"]:
        groups.setdefault((one["state"], one["by"]), []).append(one)
    safety = card.get("safety")
    if not groups and not safety:
        sheets.text("Preconditions: none answered.", "small-strong")
    for (state, by), members in groups.items():
        word = "not applicable" if state == "not_applicable" else "confirmed"
        codes = code_runs(dict.fromkeys(one["code"] for one in members))
        when = times.span((one["at"] for one in members), zone)
        sheets.text(f"Preconditions {word} by {by}, {when}: {codes}.", "small-ink")
    if safety:
        sheets.text(card_line(safety), "small-ink")
    sheets.y += 4


def _readings(
    sheets: Sheets, document: Doc, card: Doc, curves: Sequence[Curve]
) -> None:
    readings = card["readings"]
    if not readings:
        sheets.text("No reading was taken.", "body-strong")
        return
    shared = conditions.common(readings)
    _fields(sheets, card, shared, document["zone"])
    for drawing, fit in curves:
        sheets.need(drawing.height * CURVE_TIMES + FIT_LINES * leading_of("small-ink"))
        sheets.place(drawing, LEFT, sheets.y, CURVE_TIMES)
        sheets.y += drawing.height * CURVE_TIMES + 6
        for line in fit:
            sheets.text(line, "small-ink")
        sheets.y += 4
    sources = Sources(readings)
    sheets.need(60)
    reading_heads(sheets)
    with sheets.repeating(lambda: reading_heads(sheets)):
        reading_rows(sheets, document, card, shared, sources)
    reading_blocks(sheets, readings, card["rules"])
    _sources(sheets, sources)


def _fields(sheets: Sheets, card: Doc, shared: Mapping[str, Any], zone: str) -> None:
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
        _field_row(sheets, fields[start : start + a_row])
    sheets.y += 6


def _field_row(sheets: Sheets, fields: Sequence[tuple[str, str]]) -> None:
    """Put down fields side by side: label above, value below, both wrapped."""
    width = WIDTH / len(fields)
    labels = [lines_of(label, "tiny", width - 12) for label, _ in fields]
    values = [lines_of(value, "body-strong", width - 12) for _, value in fields]
    small, large = leading_of("tiny"), leading_of("body-strong")
    base = sheets.y + 3 + small * max(map(len, labels))
    height = base - sheets.y + large * max(map(len, values)) + 5
    if sheets.y + height > BOTTOM:
        sheets.turn()
        base = sheets.y + 3 + small * max(map(len, labels))
    sheets.put(Rect(LEFT, sheets.y, WIDTH, height, "frame-thin"))
    for n, (label, value) in enumerate(zip(labels, values, strict=True)):
        x = LEFT + n * width
        if n:
            sheets.put(Line(x, sheets.y, x, sheets.y + height, "hairline"))
        for m, words in enumerate(label):
            sheets.put(Text(x + 6, sheets.y + 2 + small * (m + 0.9), words, "tiny"))
        for m, words in enumerate(value):
            sheets.put(Text(x + 6, base + large * (m + 0.85), words, "body-strong"))
    sheets.y += height


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
    curves = [(drawing, fit) for drawing, fit in drawn if drawing is not None]
    return [*curves, *_placed(card)]


def _placed(card: Doc) -> list[Curve]:
    """Return the characteristic, or the circle, that the readings lie on."""
    standing = [one for one in card["readings"] if not one["superseded_by"]]
    if not standing:
        return []
    rule = card["rules"][standing[0]["rule"]]
    read = [on_card(one["point"], one) for one in standing]
    width, height = WIDTH / CURVE_TIMES, CURVE_HEIGHT
    drawn = characteristic(rule, read, width=width, height=height)
    drawn = drawn or dial(rule, read, width=width, height=height)
    return [] if drawn is None else [(drawn, [])]


def _sources(sheets: Sheets, sources: Sources) -> None:
    if not sources.all:
        return
    sheets.y += 4
    for n, words in enumerate(sources.all, start=1):
        lozenge = "◇ " if words in sources.recalled else ""
        lines = lines_of(f"{lozenge}{words}", "small", WIDTH - 22)
        leading = leading_of("small")
        sheets.need(leading * len(lines))
        sheets.put(Text(LEFT + 4, sheets.y + leading * 0.8, f"[{n}]", "small"))
        for m, line in enumerate(lines):
            sheets.put(Text(LEFT + 22, sheets.y + leading * (m + 0.8), line, "small"))
        sheets.y += leading * len(lines)


def _notes(sheets: Sheets, card: Doc, zone: str) -> None:
    for note in card["notes"]:
        sheets.gap(3)
        sheets.text(
            f"Note by {note['by']}, {times.at(note['at'], zone)}: {note['text']}",
            "small-ink",
        )


def _signatures(sheets: Sheets, card: Doc, zone: str) -> None:
    sheets.gap(5)
    if not card["signatures"]:
        sheets.text("This card is not signed.", "body-strong")
    for one in card["signatures"]:
        sheets.need(30)
        when = times.at(one["at"], zone)
        sheets.text(f"Signed as {one['meaning']} by {one['by']}, {when}", "body-strong")
        sheets.text(f"key {one['key']}", "mono-small")
