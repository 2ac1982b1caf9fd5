"""Made-up rows of readings, and what a rule takes from them.

Curves with and without a knee, steps out of order, bounds, and rows nobody can read.
"""

import random
from typing import Any

KINDS = ("excitation", "fall", "tan_delta")
KNEES: tuple[dict[str, Any], ...] = (
    {"by": "rise", "step_pct": 10, "value_pct": 50},
    {"by": "slope", "degrees": 45},
    {"by": "slope", "degrees": 30},
)
BROKEN = ("", "4", "4:1 2:3", "1:1 2:x", "1:held 2:3", "0:1 2:3", "1:-3 2:1")


def word_of_a_row(
    source: random.Random, name: str, unit: str, when: tuple[str, str]
) -> dict[str, Any]:
    """Return a derived word; its *unit* is that of the reading, or none.

    *when*: the name of a condition, and a word of it.
    """
    op = source.choice(
        ("series_at", "series_where", "series_between", "series_spread", "knee")
    )
    kind = "excitation" if op == "knee" else source.choice(KINDS)
    words: dict[str, Any] = {
        "series_at": source.choice(
            ({"step": 1.0}, {"share": 0.618034, "share_of": "probe_m"})
        ),
        "series_where": {"value": source.choice((0.5, 3.0, 4.0))},
        "series_between": {
            "late": 1.5,
            "early": source.choice((0.5, 1.0)),
            "as": source.choice(("difference", "ratio")),
        },
        "series_spread": {"shares": [0.5, 0.62, 0.75], "share_of": "probe_m"},
        "knee": source.choice(KNEES),
    }
    said: dict[str, Any] = {"unit": unit} if source.random() < 0.7 else {}
    if source.random() < 0.4:
        said |= {"when": {when[0]: when[1]}}
        said |= {"of": "reading"} if source.random() < 0.5 else {}
    return {"name": name, "op": op, "series": kind, **words[op], **said}


def gate_on_a_row(source: random.Random, derived: list[str]) -> dict[str, Any]:
    """Return a gate on a row, with points above one of the derived values or not."""
    gate: dict[str, Any] = {"series": source.choice(KINDS)}
    if source.random() < 0.5:
        gate["least"] = source.choice((2, 5, 8))
    if source.random() < 0.5:
        gate["rising"] = True
    if derived and source.random() < 0.6:
        above = {"of": source.choice(derived), "least": source.choice((1, 2))}
        gate |= {"above": above, "gap_pct": source.choice((10, 30, 100))}
    if source.random() < 0.3:
        gate["reason"] = "Take it again."
    return gate


def rows_of_a_reading(source: random.Random) -> dict[str, Any]:
    """Return the conditions that carry rows, and what a share is one of."""
    given: dict[str, Any] = {
        kind: _row(source) for kind in KINDS if source.random() < 0.85
    }
    if source.random() < 0.9:
        given["probe_m"] = source.choice((1.0, 2.0, 3.0, 0.0))
    return {name: value for name, value in given.items() if value != ""}


def _row(source: random.Random) -> str:
    if source.random() < 0.1:
        return source.choice(BROKEN)
    count = source.choice((1, 2, 3, 9, 14, 20))
    first, last = source.choice(((0.4, 4.0), (0.5, 2.0), (1.0, 3.0)))
    steps = [first + (last - first) * n / count for n in range(count)]
    steps += [1.0, 1.5] if source.random() < 0.8 else []
    rounded = sorted({round(step, 2) for step in steps} | {0.5})
    return " ".join(f"{step:g}:{_shown(source, step)}" for step in rounded)


def _shown(source: random.Random, step: float) -> str:
    """Return what stands at a step: a toe and a steep rise, with some noise."""
    value = 0.5 * step**0.7 + 0.02 * step**9 * source.choice((1.0, 1.0, 1.03))
    sign = source.choice(("",) * 30 + (">", "<"))
    return f"{sign}{0 if source.random() < 0.01 else value:.4g}"
