"""The dew point of the air, and how far the insulation is from it."""

import math
from collections.abc import Iterator

from models.judging.near import RELATIVE
from models.judging.notes.placing import Made, value_of
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure, plain, tenths
from models.words import say as sentence


def make(criteria: Criteria) -> Made:
    """Return the note with the constants of the Magnus formula and the distance."""
    magnus = criteria.table("dew_point")
    a, source = value_of(magnus, "a")
    margin_c, practice = value_of(
        criteria.table("insulation_cautions"),
        "distance from the dew point",
    )
    note = {
        "say": "dew_point",
        "a": a,
        "b_c": value_of(magnus, "b")[0],
        "from_c": value_of(magnus, "holds from")[0],
        "to_c": value_of(magnus, "holds to")[0],
        "margin_c": margin_c,
    }
    return Made(note, [{**source, "row": "Magnus formula"}, practice])


def say(state: State, note: Note) -> Iterator[str]:
    """Say the dew point; nothing where temperature or humidity is not known."""
    insulation_c = state.conditions.get("temperature_c")
    given_c = state.conditions.get("air_temperature_c")
    air_c = insulation_c if given_c is None else given_c
    humidity_pct = state.conditions.get("humidity_pct")
    if air_c is None or humidity_pct is None:
        return
    if not 0 < humidity_pct <= 100:
        yield sentence("dew_point.humidity", humidity=plain(humidity_pct))
        return
    if not note["from_c"] <= air_c <= note["to_c"]:
        yield sentence(
            "dew_point.beyond",
            first=plain(note["from_c"]),
            last=plain(note["to_c"]),
            air=plain(air_c),
        )
        return
    dew_c = dew_point_c(note, air_c, humidity_pct)
    yield _worked(note, air_c, humidity_pct, dew_c)
    one = given_c is None or insulation_c is None  # known: both are taken to be it
    surface_c = air_c if insulation_c is None else insulation_c
    yield _distance(surface_c, dew_c, note["margin_c"], one=one)


def dew_point_c(note: Note, air_c: float, humidity_pct: float) -> float:
    """Return the dew point of air by the Magnus formula, over water.

    The constants are those of the note, which cites their source (WMO-No. 8).
    """
    g = _vapour(note, air_c, humidity_pct)
    return float(note["b_c"]) * g / (float(note["a"]) - g)


def _vapour(note: Note, air_c: float, humidity_pct: float) -> float:
    """Return the logarithm of the vapour pressure over that of water at 0 degC."""
    a, b_c = float(note["a"]), float(note["b_c"])
    # Two logarithms: the hundredth part of the smallest numbers is 0, which has none.
    share = math.log(humidity_pct) - math.log(100.0)
    return share + a * air_c / (b_c + air_c)


def _worked(note: Note, air_c: float, humidity_pct: float, dew_c: float) -> str:
    return sentence(
        "dew_point",
        humidity=plain(humidity_pct),
        a=plain(note["a"]),
        b=plain(note["b_c"]),
        air=plain(air_c),
        g=figure(_vapour(note, air_c, humidity_pct)),
        dew=tenths(dew_c),
    )


def _distance(insulation_c: float, dew_c: float, margin_c: float, *, one: bool) -> str:
    above = insulation_c - dew_c
    taken = "dew_point.equal" if one else "dew_point.insulation"
    parts = {"insulation": sentence(taken, insulation=plain(insulation_c))}
    if above <= RELATIVE:
        return sentence("dew_point.wet", **parts)
    parts |= {"above": tenths(above), "margin": plain(margin_c)}
    close = above < margin_c - RELATIVE
    return sentence("dew_point.close" if close else "dew_point.above", **parts)
