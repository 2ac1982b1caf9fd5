"""Section 3 of the reference: what the two days cost, worked out from their facts.

The registers of a day (sources, grounds, sets, places, put-back entries) are given here
as the reference has them; the readers get them from the acts.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from models.criteria.safety import (
    Work,
    book_lines,
    card_lists,
    crew_codes,
    isolation_codes,
    load_lines,
    point_codes,
    return_codes,
)
from tests.models.criteria.safety.working_days import (
    gas_insulated_day,
    metal_clad_day,
)

LINES = load_lines()
Items = Mapping[str, list[str]]  # register -> the kind of each item


@dataclass(frozen=True)
class Day:
    """A day, what its registers hold, and the counts of the reference by scope."""

    work: Work
    registers: Items
    counts: Mapping[str, int]


# Each section's ground comes off and on within a card: no item more, no item less.
DAYS = {
    "metal_clad": Day(
        metal_clad_day(),
        {
            "person": ["", ""],
            "lineup": [""],
            "set": ["set above 1 kV", "detector"],
            "place": [],
            "source": ["line", "line", "VT", "tie", "heater", "control_transformer"],
            "ground": ["portable"] * 6,
            "put_back": ["CT_link", "cable", "trip_link"],
            "cell": [""] * 6,
        },
        {"crew": 17, "isolation": 38, "point": 69, "test": 123, "after": 69}
        | {"return": 27, "all": 343},
    ),
    "gas_insulated": Day(
        gas_insulated_day(),
        {
            "person": ["", ""],
            "lineup": [""],
            "set": ["set above 1 kV", "detector"],
            "place": ["cable_basement"],
            "source": ["line", "line", "VT", "heater"],
            "ground": ["grounding_switch", "grounding_switch", "breaker"],
            "put_back": ["CT_link", "cable", "trip_link"],
            "cell": [""] * 3,
        },
        {"crew": 19, "isolation": 25, "point": 32, "test": 69, "after": 29}
        | {"return": 17, "all": 191},
    ),
}
KIND = {name: f"{name}_kind" for name in ("set", "place", "source", "ground")}


def asked(code: str, registers: Items) -> int:
    """How often a line is asked in its scope, by what the registers hold."""
    line = LINES[code]
    when = line.when
    if "new_shift" in when:
        return 0
    if when.get("grounds") and not registers["ground"]:
        return 0
    if "register" in when:
        kinds = when.get(f"{when['register']}_kind", [])
        if not set(registers[when["register"]]) & set(kinds):
            return 0
    if not line.each:
        return 1
    count = 0
    for register in line.each:
        kinds = when.get("item", {}).get(KIND.get(register, ""))
        of = registers[register]
        count += len([kind for kind in of if kinds is None or kind in kinds])
    return count


def counts(day: Day) -> dict[str, int]:
    """How many confirmations the day takes, by scope."""
    work, registers = day.work, day.registers
    lists = [card_lists(work, card)["lists"] for card in work.cards]
    chosen = [one.get("ac") or one[""] for one in lists]
    cells = [code for cell in work.cells for code in point_codes(work, cell)]
    found = {
        "crew": sum(asked(code, registers) for code in crew_codes([work])),
        "isolation": sum(asked(code, registers) for code in isolation_codes([work])),
        "point": sum(asked(code, registers) for code in cells),
        "test": sum(len(one["before"]) for one in chosen),
        "after": sum(len(one["after"]) for one in chosen),
        "return": sum(asked(code, registers) for code in return_codes()),
    }
    return found | {"all": sum(found.values())}


@pytest.mark.parametrize("gear", DAYS)
def test_a_worked_day_costs_as_many_confirmations_as_the_reference_counts(
    gear: str,
) -> None:
    """353 and 201 with the ten that two cells entered again take: see below."""
    assert counts(DAYS[gear]) == DAYS[gear].counts


@pytest.mark.parametrize(("gear", "cards"), [("metal_clad", 23), ("gas_insulated", 10)])
def test_the_days_have_as_many_cards(gear: str, cards: int) -> None:
    assert len(DAYS[gear].work.cards) == cards


@pytest.mark.parametrize(
    ("gear", "entered"),
    [("metal_clad", [13, 7, 13, 12, 12, 12]), ("gas_insulated", [11, 9, 12])],
)
def test_each_cell_is_entered_with_as_many_lines(gear: str, entered: list[int]) -> None:
    work, registers = DAYS[gear].work, DAYS[gear].registers
    assert [
        sum(asked(code, registers) for code in point_codes(work, cell))
        for cell in work.cells
    ] == entered


@pytest.mark.parametrize(("gear", "cell"), [("metal_clad", 3), ("gas_insulated", 1)])
def test_a_cell_left_and_entered_again_asks_five_lines(gear: str, cell: int) -> None:
    work = DAYS[gear].work
    codes = point_codes(work, work.cells[cell])
    left = [code for code in codes if "left" in LINES[code].lapses]
    dead = "G10b" if gear == "metal_clad" else "G10c"
    assert left == ["RS3a", "G10a", dead, "G13e", "G17a"]


def test_a_withstand_waits_for_the_insulation_of_what_it_tests() -> None:
    waits = {
        gear: [
            w for card in day.work.cards for w in card_lists(day.work, card)["waits"]
        ]
        for gear, day in DAYS.items()
    }
    assert waits["metal_clad"] == [
        {"code": "HV4", "cards": ["1 bus insulation_resistance"]},
        {"code": "HV4", "cards": ["5 bus insulation_resistance"]},
    ]
    assert waits["gas_insulated"] == [
        {
            "code": "HV4",
            "cards": [
                "1 three_position_switch insulation_resistance",
                "2 bus insulation_resistance",
                "3 three_position_switch insulation_resistance",
                "3 breaker insulation_resistance",
            ],
        },
        {"code": "HV6", "cells": ["1", "2", "3"]},
    ]


def test_the_book_has_every_line_that_is_named() -> None:
    work = DAYS["metal_clad"].work
    codes = [*crew_codes([work]), *isolation_codes([work]), *return_codes()]
    for cell in work.cells:
        codes += point_codes(work, cell)
    assert set(book_lines(codes)) == set(codes)
