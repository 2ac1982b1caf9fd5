"""Programmes: what each chooses, and what is refused in their file."""

from typing import Any

import pytest

from models.errors import CriteriaError
from models.schema import Apparatus
from models.services.setup import programmes
from models.services.setup.programmes import planned_cards, programme_named
from models.services.setup.programmes_file import read_programmes
from tests.scenario import CR, IR

BOOK = """
order = ["insulation", "contacts", "vacuum"]

[[programme]]
name = "P"
kind = "acceptance"
gears = ["metal_clad"]
source = "common practice"
was = ["Q"]
required = ["insulation"]
if_fitted = ["vacuum"]

[[card]]
key = "insulation"
apparatus = ["breaker"]
procedure = "insulation_resistance"
detail = "closed"
unit = "GOhm"
points = ["A-G", "B-G"]

[[card]]
key = "contacts"
apparatus = ["breaker"]
procedure = "contact_resistance"
detail = "each pole"
unit = "uOhm"

[[card]]
key = "vacuum"
apparatus = ["breaker"]
procedure = "vacuum_integrity"
detail = "open"
unit = "Pa"
defaults = { method = "ac" }
fitted = ["vacuum_ac_kv"]
"""


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(programmes, "BOOK", read_programmes(BOOK))


CHOSEN = {
    "what is required": ("breaker", {}, False, ["insulation_resistance"]),
    "what is asked for": (
        "breaker",
        {},
        True,
        ["insulation_resistance", "contact_resistance"],
    ),
    "what is fitted": (
        "breaker",
        {"vacuum_ac_kv": 27.0},
        False,
        ["insulation_resistance", "vacuum_integrity"],
    ),
    "another apparatus": ("relay", {"vacuum_ac_kv": 27.0}, True, []),
}


@pytest.mark.parametrize(
    ("kind", "plate", "optional", "wanted"), CHOSEN.values(), ids=CHOSEN
)
@pytest.mark.usefixtures("made_up")
def test_a_programme_chooses(
    kind: str, plate: dict[str, Any], optional: bool, wanted: list[str]
) -> None:
    cards = planned_cards(
        Apparatus(kind=kind, nameplate=plate),
        programme_named("P"),
        optional=optional,
    )
    assert [card.procedure for card in cards] == wanted


@pytest.mark.usefixtures("made_up")
def test_points_follow_the_pattern_unless_they_are_named() -> None:
    cards = planned_cards(Apparatus(kind="breaker", nameplate={}))
    assert [[point.label for point in card.points] for card in cards] == [
        ["A-G", "B-G"],
        ["pole A", "pole B", "pole C"],
        ["pole A", "pole B", "pole C"],
    ]


@pytest.mark.usefixtures("made_up")
def test_only_what_is_optional_may_be_left_out() -> None:
    said = programmes.is_required
    assert said("P", "insulation_resistance", "closed")
    assert not said("P", "contact_resistance", "each pole")
    assert said("P", "vacuum_integrity", "open")
    assert not said("Q", "contact_resistance", "each pole"), "its earlier name"
    assert said("no longer there", "contact_resistance", "each pole")


def test_what_was_called_otherwise_is_compared_with_what_it_is_today() -> None:
    """The insulation of a breaker: 'A-a open' of before is read from line to load."""
    was = "closed, each pole to ground; open, across each pole"
    today = programmes.detail_today(IR, was)
    (card,) = (c for c in programmes.BOOK.cards.values() if c["detail"] == today)
    assert "A-B" in card["points"]
    named = [programmes.label_today(IR, was, f"{p}-{p.lower()} open") for p in "ABC"]
    assert named == [f"pole {p}, line to load, open" for p in "ABC"]
    assert set(named) < set(card["points"])
    assert programmes.label_today(IR, was, "A-G") == "A-G"
    assert programmes.label_today(IR, today, "A-a open") == "A-a open"
    assert programmes.detail_today(CR, was) == was


REFUSED = {
    "an unknown key": (
        "detail =",
        "detial =",
        "'detial' is not known",
    ),
    "a key that is missing": ('unit = "Pa"\n', "", "card vacuum: 'unit' is missing"),
    "a card twice": (
        '"contacts"\napp',
        '"insulation"\napp',
        "stands twice",
    ),
    "a point twice": ('"B-G"', '"A-G"', "card insulation, points: 'A-G' stands twice"),
    "readings of a test that there is not": (
        'unit = "uOhm"\n',
        'unit = "uOhm"\nwas = { procedure = "ohms", unit = "uOhm" }\n',
        "was: 'ohms' is none of ",
    ),
    "readings in a unit that the test had not": (
        'unit = "uOhm"\n',
        'unit = "uOhm"\nwas = { procedure = "relay_timing", unit = "Pa" }\n',
        "was: 'Pa' is none of s",
    ),
    "an earlier name of a point that it does not have": (
        'points = ["A-G", "B-G"]',
        'points = ["A-G"]\n[card.earlier]\ndetail = "d"\npoints = { A = "B-G" }',
        "card insulation, earlier: 'B-G' is none of A-G",
    ),
    "a procedure that is not there": (
        '"vacuum_integrity"',
        '"vacuum"',
        "card vacuum: 'vacuum' is none of ",
    ),
    "an apparatus it does not fit": (
        'key = "vacuum"\napparatus = ["breaker"]',
        'key = "vacuum"\napparatus = ["relay"]',
        "card vacuum, apparatus: 'relay' is none of breaker, contactor",
    ),
    "a unit that does not fit": ('"uOhm"', '"GOhm"', "unit: 'GOhm' is none of uOhm"),
    "a condition that is not asked": (
        "{ method",
        "{ mood",
        "card vacuum, defaults: 'mood' is none of method",
    ),
    "a field that is not there": (
        '["vacuum_ac_kv"]',
        '["vacuum_acs_kv"]',
        "card vacuum, fitted: there is no field 'vacuum_acs_kv'",
    ),
    "joints that no card lists": (
        'apparatus = ["breaker"]\nprocedure = "contact_resistance"',
        'apparatus = ["bus"]\nprocedure = "joint_resistance"',
        "card contacts: 'points' is missing: 'joint_resistance' has the card list them",
    ),
    "nothing that is fitted": (
        'fitted = ["vacuum_ac_kv"]',
        "fitted = []",
        "programme P, vacuum: the card does not say what is 'fitted'",
    ),
    "a card that is not there": (
        'required = ["insulation"]',
        'required = ["insolation"]',
        "programme P, required: 'insolation' is none of insulation, contacts, vacuum",
    ),
    "a card without its place": (
        '"contacts", "vacuum"]',
        '"vacuum"]',
        "order: 'contacts' is missing",
    ),
    "a place of no card": (
        '"contacts", "vacuum"]',
        '"contacts", "vacuum", "gap"]',
        "order: 'gap' is none of insulation, contacts, vacuum",
    ),
    "a kind of round that is not there": (
        '"acceptance"',
        '"party"',
        "programme P, kind: 'party' is none of acceptance, maintenance",
    ),
    "gear that no procedure fits": (
        '["metal_clad"]',
        '["wooden"]',
        "programme P, insulation: it is done on metal_enclosed",
    ),
    "no toml": ("[[card]]", "[[card", "programmes.toml: "),
}


@pytest.mark.parametrize(("old", "new", "said"), REFUSED.values(), ids=REFUSED)
def test_a_fault_is_said_with_its_place(old: str, new: str, said: str) -> None:
    assert old in BOOK
    with pytest.raises(CriteriaError) as refused:
        read_programmes(BOOK.replace(old, new, 1))
    assert "programmes.toml: " in str(refused.value)
    assert said in str(refused.value)


def test_every_programme_says_where_it_comes_from() -> None:
    assert all(programme.source for programme in programmes.programmes())
