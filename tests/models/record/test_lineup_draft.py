"""A lineup's draft is read strictly: every fault by its place, or the whole of it."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from models.errors import InputError
from models.record.lineup_draft import draft_json
from models.record.read_lineup_draft import MOST_CELLS, read_draft

ID = "7d2f0f4e-6f0e-4f2e-9d47-0a5f5f3f0a11"
WHOLE: dict[str, Any] = {
    "name": "SG-7",
    "gear": "metal_clad",
    "ratings": {"rated_kv": 15.0, "rated_impulse_kv": 95.0, "built_year": 2024},
    "sections": [
        {"name": "bus A", "rated_a": 2000.0},
        {"name": "bus B", "rated_a": None},
    ],
    "cells": [
        {
            "id": ID,
            "number": "1",
            "name": "Incomer",
            "kind": "breaker",
            "bus": "bus A",
            "tie_to": None,
            "apparatus": [
                {
                    "id": None,
                    "kind": "breaker",
                    "label": "breaker 52-1",
                    "plate": {"maker": "ours", "serial": "V-1", "rated_kv": 15.0},
                },
                {
                    "id": None,
                    "kind": "relay",
                    "label": "relay 51-1",
                    "plate": {"curve": "definite_time", "multiples": [2.0, 5.0]},
                },
            ],
        },
        {
            "id": None,
            "number": "2",
            "name": "Tie",
            "kind": "bus_tie",
            "bus": "bus A",
            "tie_to": "bus B",
            "apparatus": [
                {"id": None, "kind": "breaker", "label": "breaker 52-T", "plate": {}}
            ],
        },
    ],
}


def test_what_is_read_is_written_back_alike() -> None:
    read = read_draft(json.loads(json.dumps(WHOLE)))

    assert draft_json(read) == WHOLE
    assert [one.label for _, one in read.apparatus()] == [
        "breaker 52-1",
        "relay 51-1",
        "breaker 52-T",
    ]


def test_blanks_are_taken_off_and_what_is_not_known_is_left_out() -> None:
    data = copy.deepcopy(WHOLE)
    data["name"] = "  SG-7 "
    data["cells"][0]["apparatus"][0]["plate"] |= {"type": " ", "coil_a": None}

    assert draft_json(read_draft(data)) == WHOLE


def _cell(at: int, **change: Any) -> Callable[[Any], None]:
    return lambda data: data["cells"][at].update(change)


def _breaker(**change: Any) -> Callable[[Any], None]:
    return lambda data: data["cells"][0]["apparatus"][0].update(change)


FAULTS: dict[str, tuple[Callable[[Any], None], str, str]] = {
    "two cells of one number": (
        _cell(1, number="1"),
        "cells.1.number",
        "Two cells have the number 1.",
    ),
    "a number that is missing": (
        _cell(1, number=" "),
        "cells.1.number",
        "Give cell 2 from the left a number.",
    ),
    "a kind of cell that is none": (
        _cell(0, kind="oven"),
        "cells.0.kind",
        "Cell 1: “oven” is none of breaker, bus_tie",
    ),
    "a kind of apparatus that is none": (
        _breaker(kind="kettle"),
        "cells.0.apparatus.0.kind",
        "Cell 1, breaker 52-1: “kettle” is none of bus, breaker",
    ),
    "a rating beyond the possible": (
        _breaker(plate={"rated_kv": 1500.0}),
        "cells.0.apparatus.0.plate.rated_kv",
        "Cell 1, breaker 52-1: Rated maximum voltage",
    ),
    "a rating that is no number": (
        _breaker(plate={"rated_kv": "15"}),
        "cells.0.apparatus.0.plate.rated_kv",
        "Cell 1, breaker 52-1: Rated maximum voltage",
    ),
    "a field of another kind": (
        _breaker(plate={"ct_class": "C400"}),
        "cells.0.apparatus.0.plate.ct_class",
        "Cell 1, breaker 52-1: the nameplate of a circuit breaker has no "
        "“Accuracy class of the CT”.",
    ),
    "a field that is none": (
        _breaker(plate={"colour": "grey"}),
        "cells.0.apparatus.0.plate.colour",
        "has no field “colour”.",
    ),
    "a tie to a section that is not there": (
        _cell(1, tie_to="bus C"),
        "cells.1.tie_to",
        "Cell 2: there is no bus section bus C; there is bus A, bus B.",
    ),
    "a tie to its own section": (
        _cell(1, tie_to="bus A"),
        "cells.1.tie_to",
        "Cell 2: a tie joins two sections; both ends are bus A.",
    ),
    "a bus that is not there": (
        _cell(1, bus="bus C"),
        "cells.1.bus",
        "Cell 2: there is no bus section bus C; there is bus A, bus B.",
    ),
    "a section twice": (
        lambda data: data["sections"].append({"name": "Bus B"}),
        "sections.2.name",
        "Two bus sections are called Bus B.",
    ),
    "no name": (lambda data: data.update(name=""), "name", "Give the lineup a name."),
    "an apparatus without a name": (
        _breaker(label=None),
        "cells.0.apparatus.0.label",
        "Give what is in cell 1 a name.",
    ),
    "two apparatus of one name in a cell": (
        _breaker(label="relay 51-1"),
        "cells.0.apparatus.1.label",
        "Cell 1: two apparatus are called relay 51-1.",
    ),
    "one serial number twice": (
        lambda data: data["cells"][1]["apparatus"][0].update(
            plate={"maker": "Ours", "serial": "v-1"}
        ),
        "cells.1.apparatus.0.plate.serial",
        "Cell 2, breaker 52-T: breaker 52-1 in cell 1 has the serial number v-1",
    ),
    "too many cells": (
        lambda data: data["cells"].extend(data["cells"][1:] * MOST_CELLS),
        "cells",
        f"There are {MOST_CELLS + 2} cells; {MOST_CELLS} is the most.",
    ),
    "cells that are no list": (
        lambda data: data.update(cells={}),
        "cells",
        "The cells are no list.",
    ),
    "a key that is not known": (
        _cell(0, colour="grey"),
        "cells.0.colour",
        "Cell 1 from the left has no “colour”.",
    ),
    "an identifier that is none": (
        _cell(0, id="x"),
        "cells.0.id",
        "Cell 1: “x” is no identifier.",
    ),
    "a cell twice": (_cell(1, id=ID), "cells.1.id", "This cell stands twice."),
    "no voltage": (
        lambda data: data.update(ratings={}),
        "ratings.rated_kv",
        "Give the rated maximum voltage in kV.",
    ),
    "no such gear": (
        lambda data: data.update(gear="wooden"),
        "gear",
        "The gear: “wooden” is none of metal_enclosed",
    ),
}


@pytest.mark.parametrize(("spoil", "place", "message"), FAULTS.values(), ids=FAULTS)
def test_a_fault_says_where_and_what(
    spoil: Callable[[Any], None], place: str, message: str
) -> None:
    data = copy.deepcopy(WHOLE)
    spoil(data)

    with pytest.raises(InputError) as error:
        read_draft(data)

    said = {fault.field: fault.message for fault in error.value.faults}
    assert message in said[place]


@pytest.mark.parametrize("data", [None, [], "x", {"cells": [None]}, {"sections": [3]}])
def test_what_is_no_draft_is_refused(data: object) -> None:
    with pytest.raises(InputError):
        read_draft(data)


def test_all_faults_are_said_at_once() -> None:
    data = copy.deepcopy(WHOLE)
    data["cells"][1]["number"] = "1"
    data["cells"][1]["bus"] = "bus C"
    data["cells"][0]["apparatus"][0]["plate"]["rated_kv"] = -1

    with pytest.raises(InputError) as error:
        read_draft(data)

    assert {fault.field for fault in error.value.faults} == {
        "cells.0.apparatus.0.plate.rated_kv",
        "cells.1.number",
        "cells.1.bus",
    }
