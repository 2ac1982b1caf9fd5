"""Made-up rules of version 3 with readings: every new word, alone and with others.

The readings lie about the limits of their rule. The same groups at every run with the
same seed.
"""

import json
import random
from collections.abc import Iterator, Mapping
from typing import Any

from models.judging import Rule
from tests.data.made_up_rows import gate_on_a_row, rows_of_a_reading, word_of_a_row

Items = list[dict[str, Any]]
OUTCOMES = ("as_expected", "not_as_expected", "not_fitted", "operated", "blocked")
PROCEDURES: Mapping[str, dict[str, Any]] = {
    "time": {"title": "Time", "units": ["ms", "s"], "outcomes": ["no_trip"]},
    "frost": {"title": "Frost", "units": ["degC", "degF"], "outcomes": []},
    "check": {"title": "Check", "units": ["V"], "outcomes": [*OUTCOMES, "broke_down"]},
}
CITE = {
    "document": "Made up",
    "edition": "",
    "table": "",
    "row": "",
    "provenance": "practice",
    "note": "",
}
SIGNED = "frost"
# In which unit values are said; that which a condition names is a word.
NAMED = {"on": "as"}
SAID: Mapping[str, tuple[Any, ...]] = {
    "time": (None, None, "ms", NAMED),
    "frost": (None, NAMED),
    "check": (None, "mV", NAMED),
}


def made_up_words(seed: int, count: int) -> Iterator[tuple[dict[str, Any], Items]]:
    """Yield so many groups, each with its procedure."""
    source = random.Random(seed)
    for _ in range(count):
        name = source.choice(tuple(PROCEDURES))
        procedure = {"name": name, "signed": name == SIGNED, **PROCEDURES[name]}
        rule = _rule(source, procedure)
        many = source.choice((1, 2, 3, 5))
        readings = [_reading(source, procedure) for _ in range(many)]
        yield procedure, [{"rule": rule, "reading": one} for one in readings]


def _rule(source: random.Random, procedure: Mapping[str, Any]) -> dict[str, Any]:
    signed = procedure["signed"]
    base = procedure["units"][-1 if not signed else 0]
    derive = [_derived(source, n, base) for n in range(source.choice((0, 0, 1, 2, 3)))]
    names = ["reading", "injected_a", *(part["name"] for part in derive)]
    kinds = SIGNED_KINDS if signed else tuple(KINDS)
    chosen = source.sample(kinds, source.choice((1, 2, 3)))
    rule = Rule(
        procedure=procedure["name"],
        unit=base,
        signed=signed,
        said=source.choice(SAID[procedure["name"]]),
        derive=derive,
        gates=[_gate(source, names) for _ in range(source.choice((0, 0, 1, 2)))],
        bounds=[{**_bound(source, kind, names), "cite": 0} for kind in chosen],
        correction=_correction(source, signed=signed),
        decision=source.choice(("guarded", "guarded", "simple")),
        cite=[CITE],
    )
    plain: dict[str, Any] = json.loads(json.dumps(rule.to_json()))
    return plain


def _correction(source: random.Random, *, signed: bool) -> dict[str, Any]:
    if signed or source.random() < 0.7:
        return {"by": "none"}
    if source.random() < 0.5:
        points = [[10.0, 0.5], [30.0, 2.0], [40.0, 1.5]]
        straight = {"join": "linear"} if source.random() < 0.7 else {}
        factor = {"by": "factor", "points": points, **straight}
        return {**factor, "reference_c": 20.0, "label": "made up"}
    return {"by": "metal", "k": 234.5, "reference_c": 20.0, "label": "copper"}


def _derived(source: random.Random, number: int, base: str) -> dict[str, Any]:
    if source.random() < 0.3:
        return word_of_a_row(source, f"d{number}", base, ("as", "gauge"))
    op = source.choice(("plus", "minus", "over", "error_pct", "angle", "magnitude"))
    earlier = [f"d{n}" for n in range(number)]
    injected, unknown = {"on": "injected_a", "unit": "A"}, {"on": "nowhere"}
    derived = [{"on": name} for name in earlier]
    operand = source.choice((4.0, -2.0, 0, injected, unknown, *derived))
    part = {
        "name": f"d{number}",
        "op": op,
        "of": source.choice(("reading", "reading", "injected_a", *earlier)),
        "expected" if op == "error_pct" else "by": operand,
    }
    if source.random() < 0.3:
        part["when"] = {"as": "gauge"}
    if part["of"] == "injected_a" and source.random() < 0.5:
        part["of_unit"] = "A"
    if op == "minus" and source.random() < 0.5:
        part["wrap"] = source.choice((360.0, 5.0))
    if source.random() < 0.3:
        part["label"] = "derived value"
    for word in ("after", "signed"):
        if source.random() < 0.3:
            part[word] = True
    return part


def _gate(source: random.Random, names: list[str]) -> dict[str, Any]:
    kind = source.choice(("at_least", "at_most", "one_of", "known", "last", "row"))
    if kind == "row":
        return gate_on_a_row(source, [name for name in names if name.startswith("d")])
    if kind in ("at_least", "at_most"):
        on = source.choice((*names[1:], "nowhere"))
        return {"on": on, kind: source.choice((0.5, 4.0, 5.0)), "unit": "A"}
    if kind == "known":
        on = source.choice((*names[1:], "as", "nowhere"))
        return {"on": on, "known": True, "reason": "It is not known."}
    words = {"on": "as", "one_of": source.choice((["gauge"], ["gauge", "absolute"]))}
    return words | ({"last": True} if kind == "last" else {})


def _bound(source: random.Random, kind: str, names: list[str]) -> dict[str, Any]:
    bound = {"kind": kind, **KINDS[kind](source)}
    if kind in ("low", "high", "near", "near_angle", "bands") and source.random() < 0.5:
        bound |= {"of": source.choice(names), "unit": "A"}
    return bound


def _near(source: random.Random) -> dict[str, Any]:
    points = [[0, 0], [4, 4.0], [6, 8.0]]
    expected: Any = source.choice(
        (
            4.0,
            {"on": "injected_a", "times": 1.1, "plus": source.choice((0, 0.2))},
            {"on": "injected_a", "plus": source.choice((0, 1 / 3)), "unit": "A"},
            {"on": "injected_a", "times": source.choice((1 / 57.6, 0.0173611, 1))},
            {"on": "injected_a", "points": points},
            {"on": "nowhere", "label": "load"},
        )
    )
    sides = source.choice(({}, {"below": False}, {"above": False}))
    return {
        "expected": expected,
        "pct": source.choice((0, 5, 10)),
        "fixed": source.choice((0, 0.3)),
        **sides,
    }


def _of_baseline(source: random.Random) -> dict[str, Any]:
    return {
        "value": 4.0,
        "u": source.choice((None, 0.0, 0.2)),
        **source.choice(({"low_times": 0.8}, {"high_times": 1.2}, {"low_times": 0.9})),
    }


def _expected(source: random.Random) -> dict[str, Any]:
    met, missed = source.sample(OUTCOMES, 2), source.sample(OUTCOMES, 2)
    return {
        "met": met,
        "missed": [one for one in missed if one not in met],
        "if_fitted": source.random() < 0.5,
    }


def _near_angle(source: random.Random) -> dict[str, Any]:
    expected: Any = source.choice(
        (4.0, 359.0, -180.0, {"on": "injected_a", "times": -90.0, "plus": 0.5})
    )
    return {"expected": expected, "within_deg": source.choice((0.0, 0.2, 5.0, 180.0))}


def _bands(source: random.Random) -> dict[str, Any]:
    ends = sorted(source.sample((3.8, 3.9, 4.0, 4.1, 4.2), source.choice((0, 1, 3))))
    verdicts = [
        source.choice(("within", "marginal", "outside", "unjudged")) for _ in ends
    ]
    bands = [
        {"to": to, "verdict": verdict, "word": f"up to {to}"}
        for to, verdict in zip(ends, verdicts, strict=True)
    ]
    return {"bands": [*bands, {"verdict": "outside", "word": "beyond"}]}


# Kind of bound -> what makes up the rest of it; readings lie about 4.
KINDS: Mapping[str, Any] = {
    "low": lambda source: {"value": source.choice((3.9, 4.0, -1.0))},
    "high": lambda source: {"value": source.choice((4.0, 4.1, 0.5))},
    "near": _near,
    "near_angle": _near_angle,
    "bands": _bands,
    "expected": _expected,
    "of_baseline": _of_baseline,
    "over_lowest": lambda source: {"by": source.choice((0.0, 0.1, 0.5))},
    "high_of_lowest": lambda source: {
        "times": source.choice((1.0, 1.05, 1.2)),
        "odd_share": source.choice((0.3, 0.5)),
    },
}
SIGNED_KINDS = ("low", "high", "near", "near_angle", "bands", "expected")


def _reading(source: random.Random, procedure: Mapping[str, Any]) -> dict[str, Any]:
    conditions = {
        **rows_of_a_reading(source),
        "injected_a": source.choice((5.0, 4.0, 0.0, 7.0, -3.0)),
        "as": source.choice(("gauge", "absolute")),
        "temperature_c": source.choice((20.0, 35.0)),
    }
    text, unit = _typed(source, procedure)
    known = _accuracy(source)
    return {
        "key": "made up",
        "text": text,
        "unit": unit,
        "accuracy": _accuracy(source),
        "conditions": {n: v for n, v in conditions.items() if source.random() < 0.9},
        "conditions_accuracy": {"injected_a": known} if known else {},
    }


def _typed(
    source: random.Random, procedure: Mapping[str, Any]
) -> tuple[str, str | None]:
    if procedure["outcomes"] and source.random() < 0.3:
        return source.choice(procedure["outcomes"]), None
    value = 4.0 * source.choice((1.0, 1.0, 1.05, source.lognormvariate(0.0, 0.2)))
    if procedure["signed"] and source.random() < 0.5:
        value = -value
    unit = source.choice(procedure["units"])
    shown = value * (1000 if unit == "ms" else 1)
    sign = source.choices(("", ">", "<"), (8, 1, 1))[0]
    return sign + format(shown, source.choice((".3g", ".6g", ".17g"))), unit


def _accuracy(source: random.Random) -> dict[str, Any] | None:
    if source.random() < 0.3:
        return None
    return {
        "pct": source.choice((0.0, 1.0, 3.0)),
        "fixed": source.choice((0.0, 0.05)),
        "unit": None,
    }
