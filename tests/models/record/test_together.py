"""Cards that answer one question together: what follows, and what is missing."""

import pytest

from models.errors import CriteriaError
from models.procedures import PROCEDURES
from models.procedures.questions import questions, read_questions
from models.record.together import together
from tests.data.together_cases import CASES, LOOPS, RULES, Case, card, reading


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_what_follows(case: Case) -> None:
    said = together(questions()[case.question], case.members, case.known, [], RULES)
    assert (tuple(said["lacks"]), tuple(said["follows"])) == (case.lacks, case.follows)


def test_each_card_says_its_last_reading_and_what_is_open() -> None:
    empty = card("Winding", points=3)
    seen = card(
        "Marks",
        {**reading("A", "1", "V"), "text": "as_expected", "unit": None},
        points=1,
    )
    said = together(
        questions()["saturation"], [(LOOPS, ()), (empty, ()), (seen, ())], {}, []
    )
    assert [(m["last"], m["verdict"], m["open"]) for m in said["members"]] == [
        ("residual: 1.75 V, within", "within", ""),
        ("nothing read yet", None, "3 points are not read"),
        ("A: as expected, within", "within", "1 point is not read"),
    ]


def test_what_procedures_give_is_a_part_of_a_question() -> None:
    for name, procedure in PROCEDURES.items():
        asked = {ask["name"] for ask in procedure.asks}
        for one in procedure.questions:
            question = questions()[one.of]
            assert not one.part or question.parts[one.part].take, name
            assert {*filter(None, [one.over]), *one.where, *one.at} <= asked, name
            assert set(one.at.values()) <= set(question.parts), name


GOOD = """
[q]
title = "A question"
follows = "it"
unit = "V"
plus = ["a"]
[q.part]
a = { label = "a", unit = "V", take = "least" }
"""
WRONG = {
    "a part that is none": ('plus = ["a"]', 'plus = ["b"]', "'b' is no part"),
    "a field that is none": (
        'unit = "V"\nplus',
        'unit = "V"\nshows = ["x"]\nplus',
        "'x' is no field",
    ),
    "a unit that is none": (
        'label = "a", unit = "V"',
        'label = "a", unit = "W m"',
        "no unit",
    ),
    "nobody gives it": (', take = "least"', "", "no reading gives it"),
    "another take": ('"least"', '"mean"', "take is one of greatest, least"),
    "a key that is none": ('follows = "it"', 'follow = "it"', "follow"),
}


@pytest.mark.parametrize(("what", "by", "fault"), WRONG.values(), ids=WRONG)
def test_a_file_that_is_not_in_order_is_refused(what: str, by: str, fault: str) -> None:
    assert list(read_questions(GOOD)) == ["q"]
    with pytest.raises(CriteriaError, match=fault):
        read_questions(GOOD.replace(what, by))
