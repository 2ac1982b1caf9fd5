"""The one-line symbols and their path data."""

import json
import re

import pytest

from seed_demo.lineups import LINEUPS
from webapp.drawing import symbols
from webapp.drawing.symbols import BOX, KIND_WORDS, symbol

GEARS = ["metal_enclosed", "metal_clad", "gas_insulated"]


def test_each_kind_of_the_demo_has_a_symbol():
    kinds = {cell[2] for _, _, cells in LINEUPS.values() for cell in cells}
    assert kinds <= set(symbols())


@pytest.mark.parametrize("gear", GEARS)
def test_path_data_is_plain_json_inside_the_box(gear):
    made = symbols(gear)
    assert json.loads(json.dumps(made)) == made
    for kind, one in made.items():
        assert one["box"] == [60, 90]
        assert one["paths"], kind
        for path in one["paths"] + one["solid"]:
            assert re.fullmatch(r"[MLhvaZ0-9. eE-]+", path)
            for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path):
                assert 0 <= float(x) <= BOX[0]
                assert 0 <= float(y) <= BOX[1]


def test_paths_and_strokes_are_the_same_number():
    for kind, one in symbols().items():
        assert len(one["paths"]) + len(one["solid"]) == len(symbol(kind))


def test_only_metal_clad_breakers_are_drawn_out():
    plain = symbols("gas_insulated")
    drawn_out = symbols("metal_clad")
    changed = {kind for kind in plain if plain[kind] != drawn_out[kind]}
    assert changed == {"breaker", "bus_tie"}


def test_no_two_kinds_look_alike():
    looks = [json.dumps(one) for one in symbols().values()]
    assert len(set(looks)) == len(looks)


def test_an_unknown_kind_is_the_blank_one():
    assert symbol("something new") == symbol("blank")


def test_each_kind_has_words():
    assert set(KIND_WORDS) == set(symbols())
