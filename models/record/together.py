"""Cards that answer one question together: where each stands, and what follows.

`webapp/offline/together.js` is its twin: the tablet says the same without signal.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from models.judging.near import finite
from models.judging.quantities import UNITS, convert, said_unit
from models.judging.series_words import place_on_curve
from models.judging.wording import amount
from models.procedures.gives import Gives
from models.procedures.questions import Part, Question
from models.words import catalogue, say

Doc = Mapping[str, Any]
NEAR_SHARE = 0.02  # currents that differ by more are two (common practice)
UNKNOWN = "unjudged"
NO_RULES: Mapping[str, Doc] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Figure:
    """A part of the answer: its value, the place that it was read at, its own name."""

    value: float
    point: str = ""
    label: str = ""


def together(
    question: Question,
    members: Sequence[tuple[Doc, Sequence[Gives]]],
    known: Mapping[str, float],
    shown: Sequence[Sequence[str]],
    rules: Mapping[str, Doc] = NO_RULES,
) -> dict[str, Any]:
    """Return what stands on the cards of one question, in words.

    *members*: each card as the round document has it, with what its readings give;
    *known*: parts that the nameplates say; *shown*: lines of theirs; *rules*: those of
    the points, as JSON by id.
    """
    there = [(card, gives) for card, gives in members if card["state"] != "withdrawn"]
    figures = {name: Figure(value) for name, value in known.items()}
    figures |= _from_readings(question, there, figures, rules)
    lacks = [
        say("together.lacks", what=question.parts[name].label)
        for name in _wanted(question)
        if name not in figures
    ]
    return {
        "title": question.title,
        "members": [_member(card) for card, _ in there],
        "shown": [list(line) for line in shown],
        "lacks": lacks,
        "follows": [] if lacks else list(_follows(question, figures)),
    }


def _wanted(question: Question) -> Sequence[str]:
    named = [*question.plus, *question.minus, *question.times, question.at_most]
    return [name for name in named if name]


def _member(card: Doc) -> dict[str, Any]:
    """Return where one card stands: its last reading, and how many points are open."""
    standing = _standing(card)
    last = max(standing, key=lambda one: one["taken_at"], default=None)
    left = len(card["points"]) - len({one["point_id"] for one in standing})
    return {
        "card_id": card["id"],
        "title": card["title"],
        "apparatus": card["apparatus"]["label"],
        "last": say("together.none") if last is None else _reading_words(card, last),
        "verdict": None if last is None else last["judgement"]["verdict"],
        "open": say("together.open", left=str(left)) if left else "",
    }


def _standing(card: Doc) -> list[Doc]:
    return [one for one in card["readings"] if not one["superseded_by"]]


def _reading_words(card: Doc, reading: Doc) -> str:
    text, unit = reading["text"], said_unit(reading["unit"])
    outcome = f"outcome.{text}"
    typed = f"{text} {unit}".strip() if unit else text
    return say(
        "together.reading",
        point=_label(card, reading),
        value=say(outcome) if outcome in catalogue() else typed,
        verdict=say(f"verdict.{reading['judgement']['verdict']}"),
    )


def _label(card: Doc, reading: Doc) -> str:
    return str(_point(card, reading)["label"])


def _point(card: Doc, reading: Doc) -> Doc:
    points: Sequence[Doc] = card["points"]
    return next(one for one in points if one["id"] == reading["point_id"])


def _from_readings(
    question: Question,
    members: Sequence[tuple[Doc, Sequence[Gives]]],
    known: Mapping[str, Figure],
    rules: Mapping[str, Doc],
) -> dict[str, Figure]:
    """Return the parts that readings give: what is read goes before the nameplate."""
    found: dict[str, list[Figure]] = {}
    for card, gives in members:
        for one in gives:
            part = question.parts.get(one.part)
            if part is None:
                continue
            for reading in _standing(card):
                if one.derived:
                    figure = _read_off(card, reading, one, rules)
                else:
                    figure = _value(card, reading, one, part, known)
                if figure is not None:
                    found.setdefault(one.part, []).append(figure)
    return {name: _taken(question.parts[name], each) for name, each in found.items()}


def _taken(part: Part, figures: Sequence[Figure]) -> Figure:
    choose = max if part.take == "greatest" else min
    return choose(figures, key=lambda one: one.value)


def _read_off(
    card: Doc, reading: Doc, gives: Gives, rules: Mapping[str, Doc]
) -> Figure | None:
    """Return what the rule reads off the row, with the name that it has there."""
    if reading["judgement"]["verdict"] == UNKNOWN:
        return None
    derive = rules.get(_point(card, reading)["rule_id"], {}).get("derive") or ()
    by_name = {one["name"]: one for one in derive}
    named = next((by_name[name] for name in gives.derived if name in by_name), None)
    if named is None:
        return None
    value = place_on_curve(named, reading["conditions"])
    if value is None:
        return None
    return Figure(value, _label(card, reading), named["label"])


def _value(
    card: Doc, reading: Doc, gives: Gives, part: Part, known: Mapping[str, Figure]
) -> Figure | None:
    """Return what a reading gives in the unit of its part; None: it gives nothing.

    One that could not be judged gives nothing, nor does one that is only a bound.
    """
    judged = reading["judgement"]
    value, unit = judged.get("corrected"), judged.get("corrected_unit")
    if judged["verdict"] == UNKNOWN or not finite(value):
        return None
    if reading["text"].lstrip()[:1] in ("<", ">"):
        return None
    conditions = {**_point(card, reading).get("given", {}), **reading["conditions"]}
    if not _fits(conditions, gives, known):
        return None
    at = _label(card, reading)
    if gives.over:
        by: Any = conditions.get(gives.over)
        return Figure(value / by, at) if finite(by) and by > 0 else None
    same = unit in UNITS and UNITS[unit].quantity == UNITS[part.unit].quantity
    return Figure(convert(value, unit, part.unit), at) if same else None


def _fits(conditions: Doc, gives: Gives, known: Mapping[str, Figure]) -> bool:
    if any(conditions.get(name) != word for name, word in gives.where.items()):
        return False
    for name, part in gives.at.items():
        at: Any = conditions.get(name)
        wanted = known.get(part)
        if wanted is None or not finite(at):
            return False
        if abs(at - wanted.value) > NEAR_SHARE * wanted.value:
            return False
    return True


def _follows(question: Question, figures: Mapping[str, Figure]) -> Iterator[str]:
    """Yield the sentence of the figures, and the one of what they are compared with."""
    value = sum(figures[name].value for name in question.plus)
    value -= sum(figures[name].value for name in question.minus)
    work = _joined(question, question.plus, figures, " + ")
    if question.minus:
        work += f" − {_joined(question, question.minus, figures, ' − ')}"
    for name in question.times:
        value *= figures[name].value
        several = len(question.plus) + len(question.minus) > 1
        factor = _said(question, name, figures)
        work = f"({work}) × {factor}" if several else f"{work} × {factor}"
    said = amount(value, question.unit)
    yield say("together.follows", what=question.follows, work=work, value=said)
    if question.at_most:
        limit = figures[question.at_most].value
        word = "at_most" if value <= limit else "above"
        most = _said(question, question.at_most, figures)
        yield say(f"together.{word}", limit=most)


def _joined(
    question: Question, names: Sequence[str], figures: Mapping[str, Figure], sign: str
) -> str:
    return sign.join(_said(question, name, figures) for name in names)


def _said(question: Question, name: str, figures: Mapping[str, Figure]) -> str:
    part, figure = question.parts[name], figures[name]
    value, what = amount(figure.value, part.unit), figure.label or part.label
    if not figure.point:
        return say("together.part", what=what, value=value)
    return say("together.part.read", what=what, value=value, point=figure.point)
