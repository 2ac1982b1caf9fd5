"""Golden cases: fuse resistance, at most 1.15 times the lowest of the set."""

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

HALF_PCT = {"pct": 0.5, "fixed": 0.0, "unit": None}


def case(
    name: str,
    texts: tuple[str, ...],
    found: tuple[Hand, ...],
    why: str = "",
    subject: Subject | None = None,
    accuracy: dict[str, object] | None = None,
) -> Case:
    return Case(
        name=f"fuse: {name}",
        procedure="fuse_resistance",
        subject=subject or Subject(),
        readings=tuple(
            Given(text=text, unit="uOhm", accuracy=accuracy) for text in texts
        ),
        by_hand=found,
        why=why,
    )


LIMIT = Subject(fuse_limit_uohm=20600.0)
W, X, U = hand("within"), hand("outside"), hand("unjudged")
CASES = (
    case(
        "a set that agrees",
        ("20500", "20510", "20480"),
        (hand("within", limit_high=23552), W, W),
        "1.15 x 20480 = 23552",
    ),
    case(
        "one that is low",
        ("20500", "20500", "20480", "20510", "20490", "7200"),
        (hand("outside", limit_high=8280), X, X, X, X, W),
        "1.15 x 7200 = 8280; five of six above",
    ),
    case("a lone fuse", ("20500",), (U,)),
    case("a lone fuse with a limit", ("20500",), (W,), subject=LIMIT),
    case("a lone fuse above its limit", ("20700",), (X,), subject=LIMIT),
    case(
        "too close to tell",
        ("200", "230.5"),
        (W, hand("marginal")),
        "1.1525; U of each 0.5 % / sqrt(3) x 2 = 0.577 %, of the ratio 0.0094",
        accuracy=HALF_PCT,
    ),
)
