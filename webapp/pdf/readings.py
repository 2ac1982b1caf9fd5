"""The rows of a card: as typed, corrected, limit, strip, verdict, and the working."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.quantities import said_unit
from models.judging.rules import MEMORY_MARK, rests_on_memory
from models.judging.wording import figure, plain, scale_for
from webapp.drawing.figures import number, shown_amount, unit_of
from webapp.drawing.limit_strip import limit_strip
from webapp.drawing.shapes import Line, Text
from webapp.pdf import times
from webapp.pdf.faces import font_of, leading_of, size_of
from webapp.pdf.fonts import width_of
from webapp.pdf.lists import decision_words
from webapp.pdf.sheets import BOTTOM, LEFT, RIGHT, Sheets, lines_of
from webapp.pdf.sources import Sources
from webapp.words import conditions
from webapp.words.limits import limit_words
from webapp.words.sources import working_of

# where each column begins, and how wide it is
POINT, TYPED, CORRECTED, LIMIT, STRIP, VERDICT = (
    (LEFT + 7, 62.0),
    (LEFT + 74, 62.0),
    (LEFT + 140, 88.0),
    (LEFT + 232, 74.0),
    (LEFT + 308, 112.0),
    (LEFT + 426, 60.0),
)
HEADS = (
    (POINT, "Point"),
    (TYPED, "As typed"),
    (CORRECTED, "Corrected"),
    (LIMIT, "Limit"),
    (STRIP, "Against the limit"),
    (VERDICT, "Verdict"),
)
ROW_HEIGHT, ROW_BASE = 29.0, 17.5
STRIP_TIMES = 0.7
STRIP_HEIGHT = 40.0
DETAIL_X = TYPED[0]
FEWEST_LINES = 8  # of the working that stay with their reading

Doc = Mapping[str, Any]


def reading_heads(sheets: Sheets) -> None:
    """Put down the columns' heads."""
    for (x, _), words in HEADS:
        sheets.put(Text(x, sheets.y + 8, words, "head"))
    sheets.y += 12
    sheets.line("strong-rule")


def reading_rows(
    sheets: Sheets,
    document: Doc,
    card: Doc,
    shared: Mapping[str, Any],
    sources: Sources,
) -> None:
    """Put down every reading of *card*, superseded ones too, in order of points."""
    readings = card["readings"]
    several = _named_groups(readings)
    order = list(dict.fromkeys((r["group"], r["point"]) for r in readings))
    ordered = sorted(
        readings, key=lambda r: (order.index((r["group"], r["point"])), r["taken_at"])
    )
    shown_group = ""
    by_id = {r["id"]: r for r in readings}
    standing = [r["judgement"] for r in readings if not r["superseded_by"]]
    for reading in ordered:
        if reading["group"] in several and reading["group"] != shown_group:
            shown_group = reading["group"]
            _group(sheets, shown_group)
        details = _details(reading, document, card, shared, sources, by_id)
        _reading(sheets, reading, details, standing)


def _named_groups(readings: Sequence[Doc]) -> set[str]:
    """Return the groups worth naming: where there are others, and of several points."""
    points: dict[str, set[str]] = {}
    for reading in readings:
        points.setdefault(reading["group"], set()).add(reading["point"])
    if len(points) < 2:
        return set()
    return {group for group, members in points.items() if len(members) > 1}


def _group(sheets: Sheets, name: str) -> None:
    sheets.need(ROW_HEIGHT + leading_of("small") * FEWEST_LINES + 20)
    sheets.y += 4
    sheets.text(f"Group: {name}", "small-strong", x=LEFT + 6)
    sheets.y += 1


def _reading(
    sheets: Sheets,
    reading: Doc,
    details: list[tuple[str, str]],
    standing: Sequence[Doc],
) -> None:
    width = RIGHT - DETAIL_X - 4
    leading = leading_of("small")
    rows = [
        (line, style)
        for text, style in details
        for line in lines_of(text, style, width)
    ]
    sheets.need(ROW_HEIGHT + leading * min(len(rows), FEWEST_LINES) + 4)
    top = sheets.y
    _row(sheets, reading, standing)
    for line, style in rows:
        if sheets.y + leading > BOTTOM:
            _bar(sheets, reading, top)
            sheets.turn()
            top = sheets.y
        sheets.y += leading
        sheets.put(Text(DETAIL_X, sheets.y - leading * 0.26, line, style))
    sheets.y += 4
    _bar(sheets, reading, top)
    sheets.line()


def _bar(sheets: Sheets, reading: Doc, top: float) -> None:
    verdict = reading["judgement"]["verdict"]
    if not reading["superseded_by"]:
        sheets.bar(f"{verdict}-bar", LEFT, top + 1.5, sheets.y - 1.5)


def _row(sheets: Sheets, reading: Doc, standing: Sequence[Doc]) -> None:
    judgement, y = reading["judgement"], sheets.y + ROW_BASE
    gone = bool(reading["superseded_by"])
    plain_style = "small" if gone else "body"
    deep = [
        _put(sheets, POINT, reading["point"], "second" if gone else "body-strong", y),
        _put(sheets, TYPED, _typed(reading), "struck" if gone else "reading", y),
        _put(sheets, CORRECTED, _corrected(judgement), plain_style, y),
        _limit(sheets, judgement, plain_style, y),
    ]
    if gone:
        sheets.put(
            Text(VERDICT[0], y, "superseded", "small"),
            Text(VERDICT[0], y + 8, f"was {judgement['verdict']}", "tiny"),
        )
    else:
        sheets.said(judgement["verdict"], VERDICT[0], y)
        deep.append(_against(sheets, reading, standing, y))
    sheets.y += max(ROW_HEIGHT, ROW_BASE + max(deep) + 3)


def _limit(sheets: Sheets, judgement: Doc, style: str, y: float) -> float:
    """Put down the limit, and below it that a figure behind it is from memory."""
    deep = _put(sheets, LIMIT, limit_words(judgement), style, y)
    if not rests_on_memory(judgement["cite"]):
        return deep
    deep += leading_of("small")
    sheets.put(Text(LIMIT[0], y + deep, MEMORY_MARK, "small-ink"))
    return deep


def _against(sheets: Sheets, reading: Doc, standing: Sequence[Doc], y: float) -> float:
    """Draw the strip, or say the comparison; return how deep that went below *y*.

    Of an outcome it says at what it was held; of what was worked out of the reading,
    as a frost point at the fill, how that stands to its limit.
    """
    strip = limit_strip(
        reading["judgement"],
        reading["text"],
        among=standing,
        width=STRIP[1] / STRIP_TIMES,
        height=STRIP_HEIGHT,
    )
    if strip:
        sheets.place(strip, STRIP[0], sheets.y - 0.5, STRIP_TIMES)
        return 0.0
    reached = number(reading["conditions"], "test_kv")
    held_s = number(reading["conditions"], "duration_s")
    if reading["unit"] is None and reached is not None and held_s is not None:
        sheets.put(Text(STRIP[0], y, f"{plain(reached)} kV, {plain(held_s)} s", "body"))
        return 0.0
    judgement = reading["judgement"]
    if judgement["verdict"] == "unjudged" or reached is not None:
        return 0.0  # why it is unjudged stands in the working
    return _put(sheets, STRIP, judgement["reason"], "small", y)


def _put(
    sheets: Sheets, column: tuple[float, float], text: str, style: str, y: float
) -> float:
    """Put words into a column, wrapped; return how deep they went below *y*."""
    x, width = column
    leading = leading_of(style)
    rows = lines_of(text, style, width)
    for n, words in enumerate(rows):
        at = y + leading * n
        sheets.put(Text(x, at, words, style))
        if style == "struck":
            long = width_of(words, font_of(style), size_of(style))
            sheets.put(Line(x - 1, at - 3, x + long + 1, at - 3, "strike"))
    return leading * (len(rows) - 1)


def _typed(reading: Doc) -> str:
    if not reading["unit"]:
        return str(reading["text"]).replace("_", " ")
    return f"{reading['text']} {said_unit(reading['unit'])}"


def _corrected(judgement: Doc) -> str:
    value = number(judgement, "corrected")
    if value is None:
        return "–"
    unit = unit_of(judgement)
    said = shown_amount(value, unit)
    u = number(judgement, "uncertainty")
    if not u:
        return said
    words, over = scale_for(value, unit)
    return f"{figure(value / over)} ± {figure(u / over, 2)}{words}"


def _details(
    reading: Doc,
    document: Doc,
    card: Doc,
    shared: Mapping[str, Any],
    sources: Sources,
    by_id: Mapping[str, Doc],
) -> list[tuple[str, str]]:
    """Return the lines under a reading, each with its style."""
    zone = document["zone"]
    lines = [(line, "small") for line in working_of(reading["judgement"])]
    own = conditions.said(card["procedure"], conditions.differing(reading, shared))
    facts = [f"{label} {value}" for label, value in own]
    facts += [
        f"{reading['instrument']}, {reading['by']}, "
        f"{times.at(reading['taken_at'], zone)}"
    ]
    if not reading.get("calibrated", True):
        facts.append("instrument out of calibration on the day")
    marks = sources.marks(reading)
    lines.append(
        (
            " · ".join(filter(None, (*facts, f"sources {marks}" if marks else ""))),
            "small",
        )
    )
    lines += _succession(reading, by_id, zone)
    lines += _judged_before(reading, zone)
    lines += _disposition(reading, zone)
    raised = [
        d["number"]
        for d in document["deficiencies"]
        if d.get("reading_id") == reading["id"]
    ]
    if raised:
        lines.append((f"Deficiency raised: {', '.join(raised)}.", "small-ink"))
    return lines


def _succession(
    reading: Doc, by_id: Mapping[str, Doc], zone: str
) -> list[tuple[str, str]]:
    newer = by_id.get(reading["superseded_by"] or "")
    if newer:
        when = times.at(newer["taken_at"], zone)
        return [
            (
                f"Superseded by {newer['by']}'s reading of {when}: {newer['reason']}",
                "small-ink",
            )
        ]
    older = by_id.get(reading["supersedes"] or "")
    if older:
        typed = f"{older['text']} {said_unit(older['unit'])}".strip()
        return [(f"Takes the place of {typed}: {reading['reason']}", "small-ink")]
    return []


def _judged_before(reading: Doc, zone: str) -> list[tuple[str, str]]:
    """Say each verdict that judging again by other criteria replaced."""
    lines = []
    for one in reading.get("judged_before", []):
        when = times.at(one["at"], zone)
        was = one["judgement"]["verdict"]
        lines += [
            (
                f"Judged again by {one['by']}, {when}, under {one['what']}: was {was}.",
                "small-strong",
            ),
            (one["reason"], "small-ink"),
        ]
    return lines


def _disposition(reading: Doc, zone: str) -> list[tuple[str, str]]:
    found = reading["disposition"]
    if not found:
        return []
    when = times.at(found["at"], zone)
    return [
        (
            f"Disposition by {found['by']}, {when}: {decision_words(found)}.",
            "small-strong",
        ),
        (found["reason"], "small-ink"),
    ]
