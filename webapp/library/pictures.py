"""Drawings of the library: correction factors, inverse curves, the limit strip."""

from markupsafe import Markup

from models.criteria.table_file import TableFile
from webapp.drawing import Timed, svg, time_current
from webapp.drawing.correction import Factors, correction
from webapp.drawing.curve_family import curve_family
from webapp.drawing.shapes import Drawing
from webapp.library.calculator import Answer

CONSTANTS = ("label", "form", "a", "b", "p")


def picture(table_file: TableFile) -> Markup:
    """Return the drawing of a table of factors or of curves; nothing for others."""
    if table_file.order == "temperature_c" and table_file.unit == "1":
        return drawn(_factors(table_file))
    if {column.name for column in table_file.columns} >= set(CONSTANTS):
        curves = [{name: row[name] for name in CONSTANTS} for row in table_file.rows]
        return drawn(curve_family(curves, title=table_file.title))
    return Markup()


def curve_picture(answer: Answer) -> Markup:
    """Return a relay's curve with the time that was typed; nothing without one."""
    applied_a = answer.conditions.get("applied_a")
    if not applied_a:
        return Markup()
    point = Timed(
        label="reading",
        applied_a=applied_a,
        seconds=answer.judgement["corrected"],
        verdict=answer.judgement["verdict"],
        pickup_a=answer.conditions.get("measured_pickup_a"),
    )
    return drawn(time_current(answer.rule.to_json(), [point]))


def _factors(table_file: TableFile) -> Drawing | None:
    columns = [
        Factors(
            name=column.label.lower(),
            points=[
                (row["temperature_c"], row[column.name])
                for row in table_file.rows
                if column.name in row
            ],
        )
        for column in table_file.columns
        if not table_file.identifies(column) and column.unit == "1"
    ]
    return correction(
        columns, reference_c=table_file.reference_c, title=table_file.title
    )


def drawn(drawing: Drawing | None) -> Markup:
    """Return *drawing* to put into a page."""
    return Markup(svg(drawing)) if drawing else Markup()  # noqa: S704 (escaped there)
