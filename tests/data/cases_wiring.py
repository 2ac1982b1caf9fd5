"""Golden cases: bolts, grounds, cables, control wiring, fuses, arresters, meters.

By hand: each figure from the table or the nameplate that the case names.
"""

from collections.abc import Mapping
from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

NOTHING = Subject()
HALF_PCT = {"pct": 0.5, "fixed": 0.0, "unit": None}
W, M, X, U = map(hand, ("within", "marginal", "outside", "unjudged"))


def case(
    procedure: str,
    name: str,
    texts: tuple[str, ...],
    unit: str | None,
    found: tuple[Hand, ...],
    why: str = "",
    subject: Subject = NOTHING,
    accuracy: Mapping[str, Any] | None = None,
    decision: str = "guarded",
    **conditions: Any,
) -> Case:
    known = {name: value for name, value in conditions.items() if value is not None}
    given = (
        Given(text=text, unit=unit, accuracy=accuracy, conditions=known)
        for text in texts
    )
    return Case(
        name=f"{procedure}: {name}",
        procedure=procedure,
        subject=subject,
        readings=tuple(given),
        by_hand=found,
        why=why,
        decision=decision,
    )


def bolt(
    name: str,
    text: str,
    found: Hand,
    diameter_in: float | None,
    material: str | None,
    lubricated: bool | None = None,
    unit: str = "lb-ft",
    subject: Subject = NOTHING,
    why: str = "",
) -> Case:
    return case(
        "bolt_torque",
        name,
        (text,),
        unit,
        (found,),
        why,
        subject,
        decision="simple",
        bolt_diameter_in=diameter_in,
        bolt_material=material,
        bolt_lubricated=lubricated,
    )


DRY, OILED = False, True
BOLTS = (
    bolt("1/2 in, SAE 5, dry", "48", hand("within", limit_low=48), 0.5, "grade_5", DRY),
    bolt("a little less", "47.9", hand("outside", limit_low=48), 0.5, "grade_5", DRY),
    bolt(
        "in newton metres",
        "65.08",
        hand("within", corrected=48.0005, limit_low=48),
        0.5,
        "grade_5",
        DRY,
        unit="Nm",
        why="48 lb-ft = 48 x 1.3558179483 = 65.0793 N m",
    ),
    bolt("9/16 in", "105", hand("within", limit_low=105), 0.5625, "grade_8", DRY),
    bolt("a size that is no row", "50", U, 0.55, "grade_5", DRY),
    bolt("a size between two rows of aluminium", "20", U, 0.4375, "aluminium", OILED),
    bolt(
        "3/4 in, bronze, dry", "87", hand("within", limit_low=87), 0.75, "bronze", DRY
    ),
    bolt(
        "3/4 in, bronze, lubricated",
        "60",
        hand("within", limit_low=60),
        0.75,
        "bronze",
        OILED,
    ),
    bolt("lubricated steel", "48", U, 0.5, "grade_5", OILED),
    bolt("material not said", "48", U, 0.5, None, DRY),
    bolt("lubrication not said", "48", U, 0.5, "bronze"),
    bolt("galvanized", "40", hand("within", limit_low=40), 0.5, "galvanized"),
    bolt(
        "the maker's figure goes first",
        "48",
        hand("outside", limit_low=55),
        0.5,
        "grade_5",
        DRY,
        subject=Subject(torque_lbft=55.0),
    ),
    bolt(
        "the maker's figure, of a bolt that is no row",
        "55",
        hand("within", limit_low=55),
        0.55,
        None,
        subject=Subject(torque_lbft=55.0),
    ),
)

CASES = (*BOLTS,)
