"""Section 2 of the reference: what a card of each kind asks, in order of work.

Typed from the table, not from the files; "*" is only where its own condition fits.
"""

import pytest

from models.criteria.safety import load_lines
from models.criteria.safety.asked import codes_asked, list_for
from models.criteria.safety.loader import books
from models.criteria.safety.words import CARD_FACTS

# group, facts that choose the list, before, fewest-most, after, fewest-most
LISTS = [
    ("IR", {}, "T6 IR2a CR2a* T2 T4 T3 IR3a T5", (7, 8), "P01a G14a P03a CR6*", (3, 4)),
    ("IR", {"withdrawn"}, "T12 CR2a T2 T5", (4, 4), "P01a P02b P03a CR6", (4, 4)),
    ("IR", {"wiring"}, "T6 T7 T2 T5", (4, 4), "P01a P02b P03a", (3, 3)),
    ("CR", {"withdrawn"}, "CR2a CR4a T2 T5", (4, 4), "P01a CR6", (2, 2)),
    (
        "CR",
        {"bus_in_air"},
        "CR1a CR3b* T3* CR4a T2 T5",
        (4, 6),
        "P01a G14a* CR7*",
        (1, 3),
    ),
    (
        "CR",
        {},
        "CR1a IR2a CR2a* CR3b* T3* CR4a T2 T5",
        (5, 8),
        "P01a G14a* CR6* CR7*",
        (1, 4),
    ),
    (
        "ACW",
        {},
        "T6 IR2a* T2 T4 HV3a T1 T5",
        (6, 7),
        "P01a P01b P02a* G14a",
        (3, 4),
    ),
    (
        "ACW",
        {"withdrawn"},
        "T12 CR2a T2 HV3a T1 T5",
        (6, 6),
        "P01a P01b P02b CR6",
        (4, 4),
    ),
    (
        "DCW",
        {},
        "T6 IR2a* T2 DC1a T4 HV3a T1 T5",
        (7, 8),
        "P01a P01b P02a G14a P03a",
        (5, 5),
    ),
    # "DCW on a withdrawn breaker: ACW's list with DC1a"; after dc also bled and timed
    (
        "DCW",
        {"withdrawn"},
        "T12 CR2a T2 DC1a HV3a T1 T5",
        (7, 7),
        "P01a P01b P02a P02b CR6 P03a",
        (6, 6),
    ),
    (
        "VI_ac",
        {"withdrawn"},
        "T12 VI1a VI1b T7* T2 T1 VI3a",
        (6, 7),
        "P01a P01b P02a* P02b",
        (3, 4),
    ),
    (
        "VI_dc",
        {"withdrawn"},
        "T12 VI1a VI1b T7* T2 DC1a T1 VI3a",
        (7, 8),
        "P01a P01b P02a P02b VI7b* P03a",
        (5, 6),
    ),
    (
        "VI_magnetron",
        {"withdrawn"},
        "T12 VI1a VI1b T7* VI8a T2 T1 VI3a",
        (7, 8),
        "P01a P01b VI8b P02b",
        (4, 4),
    ),
    (
        "VI_ac",
        {},
        "T6 VI1a T7 T2 T4 HV3a T1 VI3a",
        (8, 8),
        "P01a P01b P02a* G14a",
        (3, 4),
    ),
    (
        "VI_dc",
        {},
        "T6 VI1a DC1a T2 T4 HV3a T1 VI3a",
        (8, 8),
        "P01a P01b P02a G14a P03a",
        (5, 5),
    ),
    (
        "RS",
        {},
        "RS3b RS3c RS2b RS1a RS1b RS6* T2 T1",
        (7, 8),
        "P01a RS7 RS8 RS9 RS10",
        (5, 5),
    ),
    (
        "RS_trip",
        {},
        "RS3b RS1a RS1b T8 T9 T2 T1 T5",
        (8, 8),
        "P01a RS7 RS8 RS9 RS10",
        (5, 5),
    ),
    (
        "PI",
        {},
        "PI2 RS2b PI3 PI4 T2 T3 T1 T5",
        (8, 8),
        "P01a P01b G14a PI5*",
        (3, 4),
    ),
    (
        "CT_excitation",
        {},
        "CT1 CT2 CT3 CT4* T2 T3 T1 T5",
        (7, 8),
        "P01a G14a RS8 CT6",
        (4, 4),
    ),
    ("CT_dc", {}, "CT1 CT3 CT4* CT5 T2 T1 T5", (6, 7), "P01a CR7 RS8 CT6", (4, 4)),
    ("VT", {}, "VT1 VT2 VT3* T2 T3 T1 T5", (6, 7), "P01a G14a", (2, 2)),
    ("BT", {}, "T8 T9 BT2 BT3 T11 T2 T5", (7, 7), "P01a BT4", (2, 2)),
    ("RK", {}, "RK1 RK2 RK3 RK4 RK5* T10 T5", (6, 7), "RK6 RK7*", (1, 2)),
    ("RR", {}, "RK1 RK2 RK3 RK4 T10 RR3 RR2 RR4", (8, 8), "RK6 RK7*", (1, 2)),
    ("IL", {}, "IL1* IL2* IL3 T8 T11 T5", (4, 6), "IL4 IL5*", (1, 2)),
    ("GH_fill", {}, "GH1 GH2 GH5 GH6 T2 T5", (6, 6), "GH8", (1, 1)),
    ("GH_read", {}, "GH1 GH2 PD2 T10 T2", (5, 5), "", (0, 0)),
    ("GH_open", {}, "GH1 GH2 GH5 GH3 GH4* T2 T5", (6, 7), "GH8", (1, 1)),
    (
        "VLF",
        {},
        "T6 VC2* T2 DC1a T4 HV3a T1 T5",
        (7, 8),
        "P01a P01b P02a G14a P03a",
        (5, 5),
    ),
    ("GR", {}, "GR1* GR3 GR2 T10 T2", (4, 5), "P01a GR4*", (1, 2)),
    ("survey_shut", {}, "PD1 PD2 PD3* T10 T2", (4, 5), "", (0, 0)),
    (
        "survey_open",
        {},
        "TH1 TH2 PD2 PD3* T10 TH3* T2 T5",
        (6, 8),
        "TH4",
        (1, 1),
    ),
    ("EN", {}, "EN3 EN4 EN5 EN6* EN7* EN8* EN9 RR4", (5, 8), "EN10", (1, 1)),
]
CHOOSING = {"withdrawn", "wiring", "bus_in_air"}


@pytest.mark.parametrize(
    ("group", "where", "before", "n", "after", "m"),
    LISTS,
    ids=[f"{row[0]} {' '.join(sorted(row[1]))}".strip() for row in LISTS],
)
def test_a_list_asks_what_the_reference_asks(
    group: str,
    where: set[str],
    before: str,
    n: tuple[int, int],
    after: str,
    m: tuple[int, int],
) -> None:
    for words, bounds, part in ((before, n, "before"), (after, m, "after")):
        for at, state in ((0, False), (1, True)):
            facts = {name: state for name in CARD_FACTS if name not in CHOOSING}
            facts |= {name: name in where for name in CHOOSING}
            found = codes_asked(getattr(list_for(group, facts), part), facts)
            wanted = [w for w in words.split() if state or not w.endswith("*")]
            assert found == [word.rstrip("*") for word in wanted]
            assert len(found) == bounds[at]


def test_every_list_holds_four_to_eight_lines_with_all_that_may_be_asked() -> None:
    found = {
        (group.code, one.of): len(one.before)
        for group in books().groups.values()
        for one in group.lists
    }
    assert {key: n for key, n in found.items() if not 4 <= n <= 8} == {}
    # two more than the reference: a fixed breaker's magnetron test, the links of a CT
    assert len(found) == len(LISTS) + 2


def test_every_line_of_a_card_is_in_some_list() -> None:
    listed = {
        asked.code
        for group in books().groups.values()
        for one in group.lists
        for asked in (*one.before, *one.after)
    }
    of_cards = {c for c, one in load_lines().items() if one.scope in ("test", "after")}
    assert of_cards == listed


def test_one_line_calls_everybody_and_no_list_with_an_output_lacks_it() -> None:
    """T5, or VI3a and RR4 in its place; secondary injection and the probe of a ground
    test work at low energy, a shut survey opens nothing, and a gauge is only read: they
    call nobody."""
    without = {
        group.code
        for group in books().groups.values()
        for one in group.lists
        if len({"T5", "VI3a", "RR4"} & {asked.code for asked in one.before}) != 1
    }
    assert without == {"RS", "GR", "GH_read", "survey_shut"}
