"""Golden cases: breaker timing, from the earliest to the latest, and the spread.

By hand: an accuracy of 0.1 ms gives U = 2 x 0.1 / sqrt(3) = 0.11547 ms, of a
difference sqrt(2) x that = 0.16330 ms.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

PLATE = Subject(
    close_ms_min=40.0,
    close_ms_max=60.0,
    open_ms_max=45.0,
    spread_close_ms=5.0,
    bounce_ms_max=2.0,
    close_open_ms_min=45.0,
    close_open_ms_max=75.0,
)
TENTH = {"pct": 0.0, "fixed": 0.1, "unit": "ms"}


def case(
    name: str,
    texts: tuple[str, ...],
    found: tuple[Hand, ...],
    operation: str | None = "close",
    subject: Subject = PLATE,
    accuracy: dict[str, Any] | None = None,
    why: str = "",
) -> Case:
    conditions = {} if operation is None else {"operation": operation}
    return Case(
        name=f"breaker: {name}",
        procedure="breaker_timing",
        subject=subject,
        readings=tuple(
            Given(text=text, unit="ms", conditions=conditions, accuracy=accuracy)
            for text in texts
        ),
        by_hand=found,
        why=why,
    )


W, X, U = hand("within"), hand("outside"), hand("unjudged")
SPREAD = Subject(spread_limit=2.0, limit_unit="ms")
CASES = (
    case(
        "three poles that close together",
        ("48", "49", "50"),
        (hand("within", limit_low=0.04, limit_high=0.053), W, W),
        why="40 ms; 48 + 5 = 53 ms, before 60 ms",
    ),
    case("nothing is no time", ("0",), (U,)),
    case("no bounce is one", ("0",), (W,), operation="bounce"),
    case("too late", ("60.1",), (X,)),
    case("too early", ("39.9", "41"), (X, W)),
    case("one pole behind", ("48", "53.1"), (W, X)),
    case("opening", ("45", "46"), (W, X), operation="open"),
    case("bounce", ("2", "2.1"), (W, X), operation="bounce"),
    case("close-open", ("60", "76", "44"), (W, X, X), operation="close_open"),
    case("the operation not said", ("50",), (U,), operation=None),
    case("nothing known", ("50",), (U,), subject=Subject()),
    case("a lone pole and a spread", ("50",), (U,), operation=None, subject=SPREAD),
    *(
        case(
            f"{over} ms over the quickest",
            ("30", str(30 + over)),
            (W, hand(verdict)),
            operation=None,
            subject=SPREAD,
            accuracy=TENTH,
            why="2 ms, U 0.1633 ms",
        )
        for over, verdict in (
            (1.7, "within"),
            (1.9, "marginal"),
            (2.1, "marginal"),
            (2.3, "outside"),
        )
    ),
)
