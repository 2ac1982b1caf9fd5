"""Altitude: what is left of the ratings of air; sealed gas takes no factor."""

import math
from collections.abc import Iterator
from itertools import pairwise

from models.judging.tables import Row, Table
from models.judging.wording import figure, plain
from models.record.ratings.compared import Compared, cite_list
from models.record.ratings.remark import (
    AS_PUBLISHED,
    LOOK_AGAIN,
    Remark,
    cited,
    kv,
)
from models.words import say

PLACE = "ratings.altitude_m"


def altitude_remarks(about: Compared) -> Iterator[Remark]:
    """Yield what the altitude of the site, in m, leaves of the ratings."""
    altitude_m = about.rating("altitude_m")
    if altitude_m is None:
        return
    constants = about.table("altitude_exponents")
    limit = _row(constants, "normal service limit")
    limit_m = limit["value"]
    if altitude_m <= limit_m:
        parts = {"altitude": plain(altitude_m), "limit": plain(limit_m)}
        yield _remark(
            AS_PUBLISHED,
            "rating.altitude.normal",
            cited(constants.cite(limit)),
            **parts,
        )
    elif about.draft.gear == "gas_insulated":
        cite = say("rating.altitude.sealed.source")
        yield _remark(
            AS_PUBLISHED, "rating.altitude.sealed", cite, altitude=plain(altitude_m)
        )
    elif about.draft.gear == "metal_clad":
        yield _printed(about, altitude_m)
    else:
        yield _formula(about, altitude_m)


def _printed(about: Compared, altitude_m: float) -> Remark:
    """Return the remark with the factors of the table, linear between its rows."""
    table = about.table("altitude_c37")
    cite = cite_list(table, table.rows, "voltage")
    for low, high in pairwise(table.rows):
        if low["altitude_m"] <= altitude_m <= high["altitude_m"]:
            share = (altitude_m - low["altitude_m"]) / (
                high["altitude_m"] - low["altitude_m"]
            )
            voltage, current = (
                low[column] + share * (high[column] - low[column])
                for column in ("voltage", "current")
            )
            text = _left(about, altitude_m, voltage)
            if rated_a := about.rating("rated_a"):
                text += " " + say(
                    "rating.altitude.current",
                    factor=figure(current, 3),
                    rated=f"{plain(rated_a)} A",
                    left=f"{figure(rated_a * current, 4)} A",
                )
            return Remark(level=LOOK_AGAIN, place=PLACE, text=text, cite=cite)
    last = plain(table.rows[-1]["altitude_m"])
    return _remark(
        LOOK_AGAIN, "altitude.beyond", cite, altitude=plain(altitude_m), last=last
    )


def _formula(about: Compared, altitude_m: float) -> Remark:
    """Return the remark with 1 / Ka, Ka = exp(m (H - 1000) / 8150)."""
    table = about.table("altitude_exponents")
    base, scale = (
        _row(table, "base, IEC 62271-1")["value"],
        _row(table, "scale height")["value"],
    )
    exponent = _row(table, "m: power frequency and lightning impulse")["value"]
    left = math.exp(-exponent * (altitude_m - base) / scale)
    cite = cite_list(table, table.rows, "value", say("rating.altitude.formula"))
    text = _left(about, altitude_m, left)
    return Remark(level=LOOK_AGAIN, place=PLACE, text=text, cite=cite)


def _left(about: Compared, altitude_m: float, factor: float) -> str:
    """Return what external air insulation holds there, in words."""
    parts = {"altitude": plain(altitude_m), "factor": figure(factor, 3)}
    impulse_kv = about.rating("rated_impulse_kv")
    if impulse_kv is None:
        return say("rating.altitude.air", **parts)
    return say(
        "rating.altitude.impulse",
        rated=kv(impulse_kv),
        left=f"{figure(impulse_kv * factor, 3)} kV",
        **parts,
    )


def _row(table: Table, name: str) -> Row:
    return next(row for row in table.rows if row["row"] == name)


def _remark(level: str, sentence: str, cite: str, **parts: str) -> Remark:
    return Remark(level=level, place=PLACE, text=say(sentence, **parts), cite=cite)
