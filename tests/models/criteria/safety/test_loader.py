"""What the loader of the lines refuses: every fault, with its file and its line."""

from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from models.criteria.safety.disagreements import disagreements
from models.criteria.safety.loader import books, read_books, shipped_files
from models.errors import CriteriaError
from models.procedures import PROCEDURES
from models.procedures.procedure import safety

Files = dict[str, dict[str, Any]]
SHIPPED = shipped_files()


def line(files: Files, code: str) -> dict[str, Any]:
    return next(
        one
        for name, data in files.items()
        if name.startswith("lines/")
        for one in data["line"]
        if one["code"] == code
    )


def change(code: str, **values: Any) -> Callable[[Files], None]:
    return lambda files: line(files, code).update(values)


def without(code: str, *keys: str) -> Callable[[Files], None]:
    def drop(files: Files) -> None:
        for key in keys:
            del line(files, code)[key]

    return drop


def first_list(group: str, **values: Any) -> Callable[[Files], None]:
    return lambda files: files["lists.toml"]["group"][group]["list"][0].update(values)


def twice(files: Files) -> None:
    files["lines/crew.toml"]["line"].append(dict(line(files, "G25a")))


def no_last_list(files: Files) -> None:
    files["lists.toml"]["group"]["VT"]["list"][0]["where"] = ["withdrawn"]


FAULTS: dict[str, tuple[Callable[[Files], None], str]] = {
    "an unknown key": (
        change("T1", colour="red"),
        "lines/test_every.toml, T1: 'colour' is not known: write code, text,",
    ),
    "a text where a list is wanted": (
        change("T2", noted="instrument_serial"),
        "lines/test_every.toml, T2: 'noted' is not a list of texts",
    ),
    "no wording": (
        without("T1", "text"),
        "lines/test_every.toml, T1: 'text' is missing",
    ),
    "no source": (
        without("G25a", "practice"),
        "lines/crew.toml, G25a: no source: write one of published, memory, practice,",
    ),
    "a code used twice": (twice, "lines/crew.toml, G25a: the code is used twice"),
    "a field that is not there": (
        change("T2", noted=["serial_no"]),
        "lines, T2: there is no field 'serial_no'",
    ),
    "a change word that is not there": (
        change("T2", lapses=["swapped"]),
        "lines, T2: there is no change word 'swapped'",
    ),
    "each of what its scope has not": (
        change("T2", each=["person"]),
        "lines/test_every.toml, T2: 'person' is none of",
    ),
    "a fact that is not there": (
        change("W1", only={"facts": ["drawn"]}),
        "lines/point.toml, W1, only: 'drawn' is none of primary_work, springs,",
    ),
    "a gear that is not there": (
        change("W1", only={"gears": ["open"]}),
        "lines/point.toml, W1, only: 'open' is none of metal_enclosed,",
    ),
    "two conditions of being asked": (
        change("G14a", when={"given": ["T3"], "grounds": True}),
        "lines/after.toml, G14a, when: write one of item, given,",
    ),
    "a choice of an item that its field has not": (
        change("G13a", when={"item": {"ground_kind": ["loose"]}}),
        "lines, G13a: there is no choice of ground_kind 'loose'",
    ),
    "a line given that is not there": (
        change("G14a", when={"given": ["T33"]}),
        "lines, G14a: there is no line 'T33'",
    ),
    "a list with a line of another scope": (
        first_list("VT", before=["G01a", "T2", "T3", "T5"]),
        "lists.toml, VT, voltage transformer, test: there is no line 'G01a'",
    ),
    "a condition that is not there": (
        first_list("VT", before=["VT1 if raining"]),
        "lists.toml, VT, voltage transformer, before: 'raining' is none of wiring,",
    ),
    "a line that is written otherwise": (
        first_list("VT", before=["VT1 unless withdrawn"]),
        "before: 'VT1 unless withdrawn' is not written as CODE or as CODE if FACT",
    ),
    "a line twice in one list": (
        first_list("VT", before=["T2", "T2"]),
        "lists.toml, VT, voltage transformer, before: 'T2' stands twice",
    ),
    "no list for a card that nothing fits": (
        no_last_list,
        "lists.toml, VT: the last list has no 'where', so that every card finds one",
    ),
    "choices of a text": (
        lambda files: files["fields.toml"]["field"]["lock"].update(choices=["a"]),
        "fields.toml, lock: a choice has choices, and nothing else has them",
    ),
    "a register with an unknown field": (
        lambda files: files["fields.toml"]["register"]["set"].append("owner"),
        "fields.toml, register, set: 'owner' is none of",
    ),
    "a caution at a line that is not there": (
        lambda files: files["cautions.toml"]["caution"][0].update(lines=["VI3"]),
        "cautions.toml, x_radiation: there is no line 'VI3'",
    ),
    "a fact shown with a group that is not there": (
        lambda files: files["shown.toml"]["shown"][0].update(groups=["XY"]),
        "there is no group 'XY'",
    ),
    "a rule set without a source": (
        lambda files: files["rules.toml"]["rule_set"][0].pop("memory"),
        "rules.toml, construction_premises: no source",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_the_loader_refuses(name: str) -> None:
    wrong, said = FAULTS[name]
    files = deepcopy(SHIPPED)
    wrong(files)
    with pytest.raises(CriteriaError) as refused:
        read_books(files)
    assert said in str(refused.value)


def test_every_fault_of_the_files_is_said_at_once() -> None:
    files = deepcopy(SHIPPED)
    change("T1", colour="red")(files)
    change("W1", only={"facts": ["drawn"]})(files)
    with pytest.raises(CriteriaError) as refused:
        read_books(files)
    assert "T1: 'colour'" in str(refused.value)
    assert "'drawn' is none of" in str(refused.value)


def test_a_procedure_may_name_only_what_is_there() -> None:
    wrong = replace(
        PROCEDURES["dielectric_withstand"],
        safety=safety("XY", waits_for=("HV4", "HV9")),
    )
    assert list(disagreements(books(), {wrong.name: wrong})) == [
        "dielectric_withstand, safety: there is no group 'XY'",
        "dielectric_withstand, safety: there is no condition 'HV9'",
    ]
