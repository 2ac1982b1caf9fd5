"""A reading as pages print it: typed, corrected, limit, strip, sources."""

from collections.abc import Callable, Mapping
from typing import Any

from flask import Flask
from markupsafe import Markup

from models.criteria.required import source_of
from models.judging.quantities import said_unit
from models.judging.rules import rests_on_memory
from models.judging.wording import figure, scale_for
from models.services.owner.trends import RowSeen
from webapp.drawing import limit_strip, svg
from webapp.drawing.figures import shown_amount, unit_of
from webapp.words import conditions
from webapp.words.limits import limit_words
from webapp.words.read_rows import ReadRow, quotients, rows_of
from webapp.words.sources import source_words, working_of

Doc = Mapping[str, Any]


def typed(reading: Doc) -> str:
    """Return a reading as it was typed, with its unit; an outcome in words."""
    if not reading["unit"]:
        return str(reading["text"]).replace("_", " ")
    return f"{reading['text']} {said_unit(reading['unit'])}"


def corrected(judgement: Doc) -> str:
    """Return the value that was judged, with U where it is known."""
    value, unit = judgement["corrected"], unit_of(judgement)
    if value is None or not unit:
        return "–"
    u = judgement["uncertainty"]
    if not u:
        return shown_amount(value, unit)
    words, over = scale_for(value, unit)
    return f"{figure(value / over)} ± {figure(u / over, 2)}{words}"


def spread(value: float, u: float | None, unit: str) -> str:
    """Return U in the unit in which *value* is said, such as ± 0.54 µΩ."""
    if not u:
        return "–"
    words, over = scale_for(value, unit)
    return f"± {figure(u / over, 2)}{words}"


def strip(judgement: Doc, text: str, card: Doc | None = None) -> Markup:
    """Return the limit strip, or nothing where there is no number or no limit.

    The strips of one *card* share their scale.
    """
    readings = card["readings"] if card else ()
    standing = [one["judgement"] for one in readings if not one["superseded_by"]]
    drawn = limit_strip(judgement, text, among=standing)
    return Markup(svg(drawn)) if drawn else Markup()  # noqa: S704 (escaped there)


def quotients_of(row: RowSeen) -> list[tuple[str, str]]:
    """Return what a row of an earlier round comes to."""
    return quotients(row.series, row.steps)


def curve(row: ReadRow) -> Markup:
    """Return a row of readings drawn, or nothing where there is nothing to join."""
    drawn = row.curve()
    return Markup(svg(drawn)) if drawn else Markup()  # noqa: S704 (escaped there)


def table_key(cite: Doc) -> str | None:
    """Return the key of the library's table that a citation names, if it has it."""
    return source_of(cite).key


def from_memory(judgement: Doc) -> bool:
    """Return whether a figure behind the verdict is from memory."""
    return rests_on_memory(judgement["cite"])


def init_reading_words(app: Flask) -> None:
    """Make the words known to templates."""
    words: dict[str, Callable[..., Any]] = {
        "amount": shown_amount,
        "typed": typed,
        "corrected": corrected,
        "limit_words": limit_words,
        "spread": spread,
        "strip": strip,
        "source_words": source_words,
        "from_memory": from_memory,
        "table_key": table_key,
        "working_of": working_of,
        "conditions_said": conditions.said,
        "conditions_common": conditions.common,
        "conditions_differing": conditions.differing,
        "said_unit": said_unit,
        "rows_of": rows_of,
        "row_curve": curve,
        "quotients_of": quotients_of,
    }
    for name, word in words.items():
        app.add_template_global(word, name)
