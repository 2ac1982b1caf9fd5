"""Golden cases: bolted joints, each at most 1.5 times the lowest of similar joints.

By hand: R20 = R (k + 20) / (k + T), k = 234.5 for copper and 228.1 for aluminium.
"""

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

COPPER = Subject(conductor="copper")
HALF_PCT = {"pct": 0.5, "fixed": 0.0, "unit": None}
WARM = {"temperature_c": 35.0, "test_current_a": 100.0}


def case(
    name: str,
    texts: tuple[str, ...],
    found: tuple[Hand, ...],
    why: str = "",
    subject: Subject = COPPER,
    accuracy: dict[str, object] | None = None,
    **conditions: float | None,
) -> Case:
    said = {**WARM, **conditions}
    known = {name: value for name, value in said.items() if value is not None}
    given = (
        Given(text=text, unit="uOhm", accuracy=accuracy, conditions=known)
        for text in texts
    )
    return Case(
        name=f"joint: {name}",
        procedure="joint_resistance",
        subject=subject,
        readings=tuple(given),
        by_hand=found,
        why=why,
    )


LIMIT = Subject(conductor="copper", joint_limit_uohm=12.0)
W, X, U = hand("within"), hand("outside"), hand("unjudged")
CASES = (
    case(
        "at 1.5 times the lowest",
        ("10", "12", "15"),
        (hand("within", corrected=9.443414, limit_high=14.165121), W, W),
        "10 x 254.5 / 269.5 = 9.443414; 1.5 x that = 14.165121",
    ),
    case(
        "above it",
        ("10", "12", "15.1"),
        (W, W, hand("outside", corrected=14.259555, limit_high=14.165121)),
        "15.1 x 254.5 / 269.5 = 14.259555",
    ),
    case(
        "aluminium",
        ("10", "15.1"),
        (hand("within", corrected=9.429875), X),
        "10 x 248.1 / 263.1 = 9.429875",
        subject=Subject(conductor="aluminium"),
    ),
    case("a lone joint", ("10",), (U,)),
    case("a lone joint with a limit", ("12.5",), (W,), "11.80427", subject=LIMIT),
    case("above the limit", ("12.8",), (X,), "12.08757 above 12", subject=LIMIT),
    case("too little current", ("10", "12"), (U, U), test_current_a=99.0),
    case("no temperature", ("10", "12"), (U, U), temperature_c=None),
    case(
        "too close to tell",
        ("10", "15.05"),
        (W, hand("marginal")),
        "1.505; U of each 0.5 % / sqrt(3) x 2 = 0.577 %, of the ratio 0.0123",
        accuracy=HALF_PCT,
    ),
)
