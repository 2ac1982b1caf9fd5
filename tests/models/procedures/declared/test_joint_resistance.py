"""Bolted joints: each at most 1.5 times the lowest of similar, at one temperature.

1.5 is ANSI/NETA ATS-2009 section 7.3.2: investigate values which deviate from those of
similar bolted connections by more than 50 percent of the lowest. The correction is held
to the other law that is printed for copper, R = R20 (1 + alpha (T - 20)) with
alpha = 0.00393 / K (the table `metal_alpha`): at 35 degC 1 / 1.05895 = 0.944332.
"""

from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.judging import Criteria, Judgement, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from models.procedures.given import Given
from models.schema import Apparatus
from models.services.setup.programmes import planned_cards, programmes
from tests.procedure_proof import Proof

JOINT = "joint_resistance"
W, X, U = Verdict.WITHIN, Verdict.OUTSIDE, Verdict.UNJUDGED
WARM = {"temperature_c": 35.0, "test_current_a": 100.0}
SPREAD = Given(
    quantity="joint_spread",
    value=1.2,
    standing="project",
    scope="lineup",
    document="the project's paper",
)


def judged(
    criteria: Criteria,
    texts: list[str],
    known: dict[str, Any],
    conditions: list[dict[str, Any]],
) -> list[Judgement]:
    rule = compile_rule(JOINT, Subject(**known), criteria)
    return judge(
        [
            (rule, Reading(key=text, text=text, unit="uOhm", conditions=said))
            for text, said in zip(texts, conditions, strict=True)
        ]
    )


# The joints in microohms, what is known of them, the conditions of all, the verdicts.
GROUPS: dict[str, tuple[list[str], dict[str, Any], dict[str, Any], list[Verdict]]] = {
    "below 1.5 times the lowest": (["10", "14.9"], {}, WARM, [W, W]),
    "at it": (["10", "12", "15"], {}, WARM, [W, W, W]),
    "above it": (["10", "12", "15.1"], {}, WARM, [W, W, X]),
    "over range": (["10", ">20"], {}, WARM, [W, X]),
    # 10 may be 1: what is above 1.5 times 10 is above 1.5 times that too
    "under range": (["<10", "16"], {}, WARM, [U, X]),
    "above the project's": (["10", "12.1"], {"given": (SPREAD,)}, WARM, [W, X]),
    "a lone joint": (["10"], {}, WARM, [U]),
    # 12.7 x 254.5 / 269.5 = 11.993, 12.8 gives 12.088
    "a lone joint below the maker's": (
        ["12.7"],
        {"joint_limit_uohm": 12.0},
        WARM,
        [W],
    ),
    "a lone joint above the maker's": (
        ["12.8"],
        {"joint_limit_uohm": 12.0},
        WARM,
        [X],
    ),
    "too little current": (["10", "12"], {}, WARM | {"test_current_a": 99.9}, [U, U]),
    "no temperature": (["10", "12"], {}, {"test_current_a": 100.0}, [U, U]),
    "no current": (["10", "12"], {}, {"temperature_c": 35.0}, [U, U]),
}


@pytest.mark.parametrize(
    ("texts", "known", "conditions", "verdicts"), GROUPS.values(), ids=GROUPS
)
def test_similar_joints(
    criteria: Criteria,
    texts: list[str],
    known: dict[str, Any],
    conditions: dict[str, Any],
    verdicts: list[Verdict],
) -> None:
    found = judged(criteria, texts, known, [conditions] * len(texts))
    assert [one.verdict for one in found] == verdicts


def test_the_correction_agrees_with_the_other_printed_law(criteria: Criteria) -> None:
    (one,) = judged(criteria, ["10"], {"conductor": "copper"}, [WARM])
    assert one.corrected == pytest.approx(9.44332, rel=2e-5)


def test_joints_are_compared_at_one_temperature(criteria: Criteria) -> None:
    """As read, 15.5 is more than 1.5 times 10; at 20 degC it is 1.386 times."""
    hot = WARM | {"temperature_c": 55.0}
    found = judged(criteria, ["10", "15.5"], {"conductor": "copper"}, [WARM, hot])
    assert [one.verdict for one in found] == [W, W]
    # 15.5 (1 + 0.00393 x 15) / (1 + 0.00393 x 35) = 14.429
    again = judged(criteria, ["10", "15.5"], {"conductor": "copper"}, [WARM, WARM])
    assert [one.verdict for one in again] == [W, X]


PROOF = Proof(
    procedure=JOINT,
    programme="Acceptance, any gear",
    gear="gas_insulated",
    apparatus=("bus", "section 1", {"conductor": "copper", "joint_limit_uohm": 20.0}),
    unit="uOhm",
    readings=("10", "10.4", "10.1", "10.2", "14", "10.3"),
    conditions=WARM,
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != JOINT:
            work.withdraw(label, procedure)
    points = [f"{side} joint, phase {of}" for side in ("left", "right") for of in "ABC"]
    assert PROOF.fill(work) == dict.fromkeys(points, "within")
    tablet = PROOF.tablet(work)
    assert [ask["label"] for ask in tablet["procedures"][JOINT]["asks"]] == [
        "Temperature of the conductor",
        "Test current, dc",
    ]
    package = PROOF.package(work)
    found = [float(r["judgement"]["limit_high"]) for r in package["readings"]]
    assert found == pytest.approx([15.0 * 254.5 / 269.5] * 6)  # 14.17, below 20
    drawn = PROOF.trend(work)
    assert (drawn.unit, drawn.logarithmic) == ("uOhm", False)
    assert drawn.limit_high == pytest.approx(15.0 * 254.5 / 269.5)


def test_a_round_has_it_only_where_the_lead_asks_for_it() -> None:
    bus = Apparatus(kind="bus", nameplate={})
    for one in programmes():
        planned = [card.procedure for card in planned_cards(bus, one, optional=False)]
        assert JOINT not in planned
        assert JOINT in [card.procedure for card in planned_cards(bus, one)]
