"""The lines themselves: all 164, each with its scope, its source and what it notes."""

from collections import Counter

import pytest

from models.criteria import load_preconditions
from models.criteria.safety import book_fields, book_lines, load_lines, registers
from models.criteria.safety.line import Sources
from models.criteria.safety.loader import books

LINES = load_lines()

# Section 1 of the reference, in its order.
CODES = {
    "crew": "G01a G02a G03a G15a G15b G23a G24a G24b IR5a G25a G25b HV7a G01b G03b "
    "G16a G16b",
    "isolation": "G04a G04b G05a G05b G06a G06b G07a G08a G08b G10d G13a G13b G13c "
    "G13d RS2a VC3 G07b G04c",
    "point": "RS3a W1 G09a G10a G10b G10c G13e G17a G18a G19a CR3a HV2a HV6a GH7 G23b "
    "W2 G22a",
    "test": "T1 T2 T3 T4 T5 T6 T7 T8 T9 T10 T11 T12 IR2a IR3a CR1a CR2a CR3b CR4a "
    "HV3a DC1a VI1a VI1b VI3a VI8a RS1a RS1b RS2b RS3b RS3c RS6 PI2 PI3 PI4 CT1 CT2 "
    "CT3 CT4 CT5 VT1 VT2 VT3 BT2 BT3 RK1 RK2 RK3 RK4 RK5 RR2 RR3 RR4 IL1 IL2 IL3 GH1 "
    "GH2 GH3 GH4 GH5 GH6 VC2 GR1 GR2 GR3 PD1 PD2 PD3 TH1 TH2 TH3 EN3 EN4 EN5 EN6 EN7 "
    "EN8 EN9",
    "after": "P01a P01b P02a P02b VI7b VI8b G14a P03a CR6 CR7 RS7 RS8 CT6 RS9 RS10 "
    "PI5 BT4 RK6 RK7 IL4 IL5 GH8 GR4 TH4 EN10",
    "return": "P04a P05a P06a G22b P08a P08b P09b R1 P07a P07b P09a",
}


@pytest.mark.parametrize(
    ("scope", "count"),
    [
        ("crew", 16),
        ("isolation", 18),
        ("point", 17),
        ("test", 77),
        ("after", 25),
        ("return", 11),
    ],
)
def test_a_scope_has_the_lines_of_the_reference(scope: str, count: int) -> None:
    found = [code for code, line in LINES.items() if line.scope == scope]
    assert sorted(found) == sorted(CODES[scope].split())
    assert len(found) == count


def test_there_are_164_lines() -> None:
    assert len(LINES) == 164


def test_a_line_is_one_sentence() -> None:
    for code, line in LINES.items():
        assert line.text.endswith("."), code
        assert line.text[0].isupper(), code
        assert ". " not in line.text, code
        assert len(line.text) <= 90, code


def test_every_field_is_noted_by_a_line_or_stands_on_a_register() -> None:
    noted = [name for line in LINES.values() for name in line.noted]
    items = [name for names in registers().values() for name in names]
    assert set(book_fields()) == {*noted, *items}


def test_hardly_a_code_of_the_earlier_list_is_used_again() -> None:
    """IR2 became IR2a: an old record keeps what its code said.

    The reference numbers timing's lines anew; old confirmations and new acts lie in
    tables of their own, and each finds its words in its own list.
    """
    earlier = {item.code for item in load_preconditions()}
    assert earlier & set(LINES) == {"BT2", "BT3", "BT4"}


NEVER_WAIVED = "G04a G06b G07a G10a G10b G10c G10d T5 VI3a RR4 P01a G14a"


def test_does_not_apply_is_refused_for_what_life_hangs_on() -> None:
    found = {code for code, line in LINES.items() if line.never_waived}
    assert found == set(NEVER_WAIVED.split())


@pytest.mark.parametrize(
    ("code", "lapses"),
    [
        ("T5", {"crew", "idle", "made_safe"}),
        ("VI3a", {"crew", "idle", "made_safe"}),
        ("RR4", {"crew", "idle", "made_safe"}),
        ("T3", {"grounds_back", "made_safe"}),
        ("HV3a", {"grounds_back", "made_safe"}),
        ("G05b", {"source", "boundary"}),
        ("G06b", {"point", "boundary"}),
        ("G07a", {"lock", "boundary"}),
        ("G07b", {"shift"}),
    ],
)
def test_a_line_lapses_by_what_it_rests_on(code: str, lapses: set[str]) -> None:
    assert set(LINES[code].lapses) == lapses


def test_only_the_call_lapses_by_standing_idle() -> None:
    idle = {code for code, line in LINES.items() if "idle" in line.lapses}
    assert idle == {"T5", "VI3a", "RR4"}


def test_what_a_cell_loses_when_it_is_left() -> None:
    left = [code for code, line in LINES.items() if "left" in line.lapses]
    assert left == ["RS3a", "G10a", "G10b", "G10c", "G13e", "G17a", "W2"]


def test_after_and_return_are_past_facts_and_do_not_lapse() -> None:
    for code, line in LINES.items():
        if line.scope in ("after", "return"):
            assert not line.lapses, code


def test_what_is_suspended_comes_back_on_the_same_card() -> None:
    found = {code: dict(line.suspends) for code, line in LINES.items() if line.suspends}
    assert found == {
        "T3": {"code": "G13e", "until": ["G14a"]},
        "HV3a": {"code": "G13e", "until": ["G14a"]},
        "CR2a": {"code": "G09a", "until": ["CR6"]},
        "BT2": {"code": "G09a", "until": ["BT4"]},
    }


def test_every_source_says_how_it_stands() -> None:
    standing = Counter(
        word
        for line in LINES.values()
        for word in ("published", "memory", "practice", "own")
        if getattr(line.sources, word)
    )
    # Counted in the reference's column: a line may have several.
    assert standing == {"published": 98, "memory": 95, "practice": 9, "own": 5}
    for code, line in LINES.items():
        said = book_lines([code])[code]["source"]
        assert ("from memory" in said) == bool(line.sources.memory), code
        assert ("common practice" in said) == bool(line.sources.practice), code
        assert ("our own" in said) == bool(line.sources.own), code


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (
            "G01a",
            "IEEE 510; 29 CFR 1910.399; from memory: 29 CFR 1910.332, NFPA 70E 110",
        ),
        (
            "P03a",
            "MIL-HDBK-1023/4; from memory: times; our own: volts",
        ),
        ("RS3a", "from memory: the panel; common practice: every cell"),
        ("RS3b", "from memory"),
        ("G25a", "common practice"),
        ("EN9", "our own"),
    ],
)
def test_the_sources_in_one_text(code: str, said: str) -> None:
    assert LINES[code].sources.said == said


def test_a_statement_as_a_whole_from_memory_says_only_that() -> None:
    assert Sources(memory=("",)).said == "from memory"
    assert Sources(published=("a book",), memory=("",)).said == "a book; from memory"


def test_cautions_and_facts_stand_where_the_hand_is() -> None:
    found = books()
    assert set(found.cautions) == {
        "x_radiation",
        "stored_spring_energy",
        "discharge_after_dc",
        "gas",
        "open_ct_secondary",
        "back_feed",
        "induced_voltage",
    }
    book = book_lines(["VI3a", "G09a", "G10a", "T3"])
    assert book["VI3a"]["caution"] == "x_radiation"
    assert book["G09a"]["caution"] == "stored_spring_energy"
    assert "multimeter" in book["G10a"]["shown"][0]
    assert len(book["T3"]["shown"]) == 2


def test_the_rules_that_govern_go_before_the_list() -> None:
    for words in ("stricter holds", "instruction book", "qualified or licensed person"):
        assert words in books().governs
    assert set(books().rule_sets) >= {"construction_power", "operation_power", "other"}
