"""A compiled rule in words: what is asked, under which conditions, what is missing."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from models.fields import find_field
from models.judging.parts import Part
from models.judging.quantities import said_unit
from models.judging.rules import Rule
from models.judging.sentences.withstand import held_for
from models.judging.series import SERIES
from models.judging.timing_options import MEASURED
from models.judging.wording import amount, plain
from models.words import in_sentence

OPTION_WORDS: Mapping[str, str] = {
    "ceiling_multiple": "flat above {} times pickup",
    "minimum_time_s": "never faster than {} s",
    "pickup_error_pct": "with a pickup wrong by up to {} %",
    "current_error_pct": "with a current wrong by up to {} %",
}

# Whether what lies below, and above, is judged -> how the limit is said.
SIDES = {(True, False): ("at least", "below"), (False, True): ("at most", "above")}


def limit_words(bound: Part, rule: Rule) -> str:
    """Return what one bound asks for, with the case in which it does."""
    say = SAY.get(bound["kind"], _anything)
    return f"{_when(bound)}{say(bound, rule)}"


def gate_words(gate: Part) -> str:
    """Return a condition without which nothing is judged."""
    if "series" in gate:
        title = in_sentence(SERIES[gate["series"]].title)
        return f"{_when(gate)}{title}: {_asked_of_row(gate)}"
    return f"{_when(gate)}{_name(gate)} {_asked(gate)}"


def _name(part: Part) -> str:
    """Say the condition or derived value that a part is `on`."""
    about = find_field(part["on"])
    own = about.in_sentence if about else part["on"].replace("_", " ")
    return str(part.get("label") or own)


def _asked_of_row(gate: Part) -> str:
    above = gate.get("above", {})
    found = (
        ("least", f"at least {plain(gate.get('least', 0))} points"),
        ("rising", "each above the one before"),
        ("above", f"{plain(above.get('least', 0))} above the {above.get('of')}"),
        ("gap_pct", f"steps of at most {plain(gate.get('gap_pct', 0))} % there"),
    )
    return ", ".join(words for key, words in found if key in gate)


def _asked(gate: Part) -> str:
    if "one_of" in gate:
        return " or ".join(_chosen(gate["on"], one) for one in gate["one_of"])
    ends = (("at_least", "at least"), ("at_most", "at most"))
    unit = said_unit(gate.get("unit"))
    figures = [
        f"{words} {plain(gate[end])} {unit}".strip()
        for end, words in ends
        if end in gate
    ]
    return " and ".join(figures) or ("not 0" if gate.get("not_zero") else "known")


def unjudged_words(reason: Part) -> str:
    """Return a reason for which nothing can be judged from the start."""
    return f"{_when(reason)}{reason['reason']}"


def correction_words(rule: Rule) -> str:
    """Return how a reading is corrected; empty where it is not."""
    correction = rule.correction
    if correction["by"] == "none":
        return ""
    words = "corrected"
    if "reference_c" in correction:
        words += f" to {plain(correction['reference_c'])} °C"
    return f"{words}: {correction['label']}" if correction.get("label") else words


def _when(part: Part) -> str:
    when = part.get("when") or {}
    return "".join(f"{_chosen(name, word)}: " for name, word in when.items())


def _chosen(name: str, value: object) -> str:
    """Say what a condition is chosen to be, in the words of its field."""
    about = find_field(name)
    if about is None or not isinstance(value, str):
        return _word(value)
    return about.choice_words(value)


def _word(value: object) -> str:
    """Say one value of a condition: a word, yes or no, or a number."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return (
        plain(value) if isinstance(value, int | float) else str(value).replace("_", " ")
    )


def _unit(bound: Part, rule: Rule) -> str:
    return bound.get("unit") or rule.unit or ""


def _low(bound: Part, rule: Rule) -> str:
    return f"{_of(bound, rule)}at least {amount(bound['value'], _unit(bound, rule))}"


def _high(bound: Part, rule: Rule) -> str:
    return f"{_of(bound, rule)}at most {amount(bound['value'], _unit(bound, rule))}"


def _near(bound: Part, rule: Rule) -> str:
    unit, expected = _unit(bound, rule), bound["expected"]
    of = _expected_at(expected) or amount(expected, unit)
    parts = [f"{plain(bound['pct'])} %"] if bound.get("pct") else []
    parts += [amount(bound["fixed"], unit)] if bound.get("fixed") else []
    width = " or ".join(parts)
    sides = (bound.get("below", True), bound.get("above", True))
    if sides in SIDES:
        more, way = SIDES[sides]
        return f"{_of(bound, rule)}{more} {f'{width} {way} ' if width else ''}{of}"
    return f"{_of(bound, rule)}{f'within {width} of ' if width else ''}{of}"


def _expected_at(expected: Any) -> str:
    """Say what is expected of a condition; empty where it is a number."""
    if not isinstance(expected, Mapping):
        return ""
    times, plus = expected.get("times", 1.0), expected.get("plus", 0.0)
    if "points" in expected or times < 0:
        return "what is expected"
    many = "" if times == 1.0 else f"{plain(times)} × "
    return f"{many}the {_name(expected)}{f' + {plain(plus)}' if plus else ''}"


def _near_angle(bound: Part, rule: Rule) -> str:
    expected = bound["expected"]
    of = _expected_at(expected) or f"{plain(expected)}°"
    return f"{_of(bound, rule)}within {plain(bound['within_deg'])}° of {of}"


def _bands(bound: Part, rule: Rule) -> str:
    unit = _unit(bound, rule)
    said = [
        f"{band['word']} up to {amount(band['to'], unit)}"
        for band in bound["bands"]
        if "to" in band
    ]
    return f"{_of(bound, rule)}{'; '.join([*said, bound['bands'][-1]['word']])}"


def _of(bound: Part, rule: Rule) -> str:
    """Name the derived value or condition that is compared; the reading has no name."""
    name = bound.get("of")
    if name is None:
        return ""
    labels = [part.get("label") for part in rule.derive if part["name"] == name]
    about = find_field(name)
    said = about.in_sentence if about else name.replace("_", " ")
    return f"{next(filter(None, labels), said)}: "


def _of_lowest(bound: Part, _: Rule) -> str:
    return f"at most {plain(bound['times'])} times the lowest of its group"


def _over_lowest(bound: Part, rule: Rule) -> str:
    by = amount(bound["by"], rule.unit or "")
    return f"at most {by} over the lowest of its group"


def _expected(bound: Part, _: Rule) -> str:
    met = " or ".join(word.replace("_", " ") for word in bound["met"])
    met += f" ({bound['word']})" if "word" in bound else ""
    return f"{met}, or not fitted" if bound.get("if_fitted") else met


def _withstand(bound: Part, _: Rule) -> str:
    level, hold = plain(bound["level_kv"]), held_for(bound["hold_s"])
    over = plain(bound["over_pct"])
    return f"holds {level} kV for {hold}; not more than {over} % above it"


def _operating_time(bound: Part, _: Rule) -> str:
    pct, s = plain(bound["tolerance_pct"]), plain(bound["tolerance_s"])
    label = bound["curve"]["label"]
    said = f"operates on {label}, within the greater of {pct} % and {s} s"
    return ", ".join([said, *_timing_options(bound)])


def _timing_options(bound: Part) -> Iterator[str]:
    """Yield what is added to the curve and its band."""
    if bound.get("bands"):
        yield f"{plain(bound['tolerance_pct'])} % being the error assigned, by multiple"
    for name, words in OPTION_WORDS.items():
        if bound.get(name):
            yield words.format(plain(bound[name]))
    if bound.get("against") == MEASURED:
        yield "at multiples of the measured pickup"


def _anything(bound: Part, _: Rule) -> str:
    """Say a bound of a kind that has no sentence of its own, figure by figure."""
    figures: Sequence[str] = [
        f"{name.replace('_', ' ')} {plain(value)}"
        for name, value in bound.items()
        if isinstance(value, float) or (isinstance(value, int) and name != "cite")
    ]
    return f"{bound['kind'].replace('_', ' ')}: {', '.join(figures)}"


SAY: Mapping[str, Callable[[Part, Rule], str]] = {
    "low": _low,
    "near": _near,
    "near_angle": _near_angle,
    "bands": _bands,
    "high": _high,
    "high_of_lowest": _of_lowest,
    "over_lowest": _over_lowest,
    "expected": _expected,
    "withstand": _withstand,
    "operating_time": _operating_time,
}
