"""Which cards of a round answer one question together, and what is known of it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from models import criteria
from models.procedures import PROCEDURES, Subject
from models.procedures.questions import Question, known_parts, questions
from models.record.together import together
from models.schema import Apparatus, Card, Lineup
from models.services.setup.nameplate import lineup_plate, nameplate_lines

Doc = dict[str, Any]


def questions_json() -> Doc:
    """Return every question as the tablet takes it."""
    return {
        name: {
            "title": one.title,
            "follows": one.follows,
            "unit": one.unit,
            "plus": list(one.plus),
            "minus": list(one.minus),
            "times": list(one.times),
            "at_most": one.at_most,
            "parts": {
                name: {"label": part.label, "unit": part.unit, "take": part.take}
                for name, part in one.parts.items()
            },
        }
        for name, one in questions().items()
    }


def asked_together(lineup: Lineup, cards: Sequence[Card]) -> list[Doc]:
    """Return each question that cards of one cell answer together.

    Its cards by id, the parts that their nameplates say, lines of these. Only where
    more than one procedure answers it.
    """
    found = []
    for question, group in _groups(cards):
        asked = questions()[question]
        plates = {**lineup_plate(lineup), **_plates(group)}
        known = known_parts(asked, Subject(**plates), criteria.load())
        found.append(
            {
                "question": question,
                "cell_id": str(group[0].cell_id),
                "cards": [str(card.id) for card in group],
                "known": known,
                "shown": _shown(asked, plates),
            }
        )
    return found


def together_of(
    asked: Iterable[Mapping[str, Any]],
    cards: Mapping[str, Mapping[str, Any]],
    rules: Mapping[str, Mapping[str, Any]],
) -> list[Doc]:
    """Return what stands on the cards of each question, in words.

    *cards* by id; *rules* of their points by digest.
    """
    return [
        {
            **together(
                questions()[one["question"]],
                [
                    (cards[key], _gives(cards[key], one["question"]))
                    for key in one["cards"]
                ],
                one["known"],
                one["shown"],
                rules,
            ),
            "cell_id": one["cell_id"],
        }
        for one in asked
    ]


def _gives(card: Mapping[str, Any], question: str) -> list[Any]:
    return [
        one for one in PROCEDURES[card["procedure"]].questions if one.of == question
    ]


def _groups(cards: Sequence[Card]) -> Iterator[tuple[str, list[Card]]]:
    """Yield the cards of each question and cell.

    Where a cell has several apparatus of one kind, each has a group with the others.
    Of several kinds it is not known which belongs to which: there is none.
    """
    members: dict[tuple[str, Any], list[Card]] = defaultdict(list)
    for card in cards:
        for of in dict.fromkeys(g.of for g in PROCEDURES[card.procedure].questions):
            members[of, card.cell_id].append(card)
    for (question, _), group in members.items():
        for one in _by_apparatus(group):
            if len({card.procedure for card in one}) > 1:
                yield question, one


def _by_apparatus(group: list[Card]) -> list[list[Card]]:
    kinds: dict[str, dict[Any, None]] = defaultdict(dict)
    for card in group:
        kinds[card.apparatus.kind][card.apparatus_id] = None
    several = [kind for kind, found in kinds.items() if len(found) > 1]
    if not several:
        return [group]
    if len(several) > 1:
        return []
    return [
        [c for c in group if c.apparatus.kind != several[0] or c.apparatus_id == each]
        for each in kinds[several[0]]
    ]


def _plates(group: Iterable[Card]) -> Doc:
    """Return their nameplates as one; the first that says a field counts."""
    found: Doc = {}
    apparatus: dict[Any, Apparatus] = {c.apparatus_id: c.apparatus for c in group}
    for one in apparatus.values():
        found = {**one.nameplate, **found}
    return found


def _shown(question: Question, plates: Mapping[str, Any]) -> list[list[str]]:
    held = {name: plates[name] for name in question.shows if name in plates}
    return [list(line) for line in nameplate_lines(held)]
