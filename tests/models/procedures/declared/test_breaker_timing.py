"""Breaker timing: from the earliest to the latest time, and the spread of the poles.

The limits are the maker's; no published one is used (IEC 62271-100 and makers' prints
are in the library). The worked spread of 2 ms is arithmetic: an accuracy of 0.1 ms
gives U = 2 x 0.1 / sqrt(3) = 0.11547 ms, of a difference sqrt(2) x that = 0.16330 ms.
"""

import pytest
from sqlalchemy.orm import Session

from models.judging import Accuracy, Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from tests.procedure_proof import Proof
from tests.scenario import fixed_id

TIMING = "breaker_timing"
W, M, X, U = Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE, Verdict.UNJUDGED
CLOSE, OPEN = {"operation": "close"}, {"operation": "open"}
CLOSE_OPEN = {"operation": "close_open"}
PLATE = {"close_ms_min": 40.0, "close_ms_max": 60.0, "open_ms_max": 45.0}
PLATE |= {"spread_close_ms": 5.0, "spread_open_ms": 3.3}

# A time in ms, what the point fixes, what is known, the verdict.
TIMES: dict[str, tuple[str, dict[str, str], dict[str, object], Verdict]] = {
    "at the latest": ("60", CLOSE, PLATE, W),
    "too late": ("60.1", CLOSE, PLATE, X),
    "at the earliest": ("40", CLOSE, PLATE, W),
    "too early": ("39.9", CLOSE, PLATE, X),
    "opening has its own": ("46", OPEN, PLATE, X),
    "opening has no earliest": ("12", OPEN, PLATE, W),
    "bounce has none of them": ("2", {"operation": "bounce"}, PLATE, U),
    "bounce has its own": ("2", {"operation": "bounce"}, {"bounce_ms_max": 2.0}, W),
    "close-open has its own": ("44.9", CLOSE_OPEN, {"close_open_ms_min": 45.0}, X),
    "close-open at the greatest": ("75", CLOSE_OPEN, {"close_open_ms_max": 75.0}, W),
    "nothing known": ("50", CLOSE, {}, U),
    "a file's latest": ("36", {}, {"limit": 35.0, "limit_unit": "ms"}, X),
    "a file's earliest": ("36", {}, {"earliest": 0.035, "limit_unit": "s"}, W),
    "a file's before the plate's": ("59", CLOSE, PLATE | {"limit": 0.055}, X),
}


@pytest.mark.parametrize(
    ("text", "conditions", "known", "verdict"), TIMES.values(), ids=TIMES
)
def test_a_time(
    criteria: Criteria,
    text: str,
    conditions: dict[str, str],
    known: dict[str, object],
    verdict: Verdict,
) -> None:
    reading = Reading(key="", text=text, unit="ms", conditions=conditions)
    # Alone a spread says nothing; the times decide.
    subject = Subject(**known).but(spread_close_ms=None, spread_open_ms=None)
    (found,) = judge([(compile_rule(TIMING, subject, criteria), reading)])
    assert found.verdict is verdict


SPREADS = {"1.7": W, "1.9": M, "2.1": M, "2.3": X}


@pytest.mark.parametrize(("over", "verdict"), SPREADS.items(), ids=SPREADS)
def test_the_difference_to_the_quickest(
    criteria: Criteria, over: str, verdict: Verdict
) -> None:
    rule = compile_rule(TIMING, Subject(spread_limit=2.0, limit_unit="ms"), criteria)
    texts = ("30", str(30 + float(over)))
    accuracy = Accuracy(0.0, 0.1, "ms")
    quickest, other = judge(
        [
            (rule, Reading(key=text, text=text, unit="ms", accuracy=accuracy))
            for text in texts
        ]
    )
    assert (quickest.verdict, other.verdict) == (W, verdict)


def test_with_none_of_the_three_the_reason_says_so(criteria: Criteria) -> None:
    rule = compile_rule(TIMING, Subject(), criteria)
    (found,) = judge([(rule, Reading(key="", text="30", unit="ms"))])
    assert found.verdict is U
    assert "Neither a latest nor an earliest time nor a spread" in found.reason


PROOF = Proof(
    procedure=TIMING,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=(
        "breaker",
        "breaker 52",
        {"bounce_ms_max": 2.0, "close_open_ms_max": 75.0, **PLATE},
    ),
    unit="ms",
    readings=(
        *("48", "49", "50", "33", "37.1", "34", "1.2", "1.4", "2.1"),
        *("60", "61", "62"),
    ),
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != TIMING:
            work.withdraw(label, procedure)
    assert PROOF.fill(work) == {
        "pole A, close": "within",
        "pole B, close": "within",
        "pole C, close": "within",
        "pole A, open": "within",
        "pole B, open": "outside",  # 4.1 ms behind pole A
        "pole C, open": "within",
        "pole A, bounce": "within",
        "pole B, bounce": "within",
        "pole C, bounce": "outside",
        "pole A, close-open": "within",
        "pole B, close-open": "within",
        "pole C, close-open": "within",
    }
    asked = PROOF.tablet(work)["procedures"][TIMING]["asks"]
    assert [ask["name"] for ask in asked] == [
        "operation",
        "control_v",
        "counter_as_found",
        "counter_as_left",
    ]
    for reading in work.facts("breaker 52", TIMING).current:
        if reading.judgement.verdict == "outside":
            work.dispose(reading.id)
    package = PROOF.package(work)
    verdicts = [reading["judgement"]["verdict"] for reading in package["readings"]]
    assert verdicts.count("outside") == 2
    drawn = PROOF.trend(work)
    assert (drawn.unit, drawn.limit_low) == ("s", 0.04)
    assert drawn.limit_high == pytest.approx(0.053)  # the quickest, 48 ms, and 5 ms


def test_what_a_point_fixes_is_not_contradicted(session: Session) -> None:
    work = PROOF.begin(session)
    work.confirm("breaker 52", TIMING)
    card = work.card("breaker 52", TIMING)
    (answer,) = work.send(
        work.entry(
            card,
            "reading",
            point_id=str(card.points[0].id),
            text="48",
            unit="ms",
            conditions={"operation": "open"},
            instrument_id=str(fixed_id("own")),
        )
    )
    assert answer["status"] == "refused"
    (fault,) = answer["faults"]
    assert fault["message"] == "Operation: this point is for 'close'."


def test_a_latest_below_the_earliest_is_said_and_nothing_judged(
    criteria: Criteria,
) -> None:
    plate = Subject(close_ms_min=60.0, close_ms_max=45.0, open_ms_max=40.0)
    rule = compile_rule(TIMING, plate, criteria)
    closed, opened = (
        judge([(rule, Reading(key="", text="39", unit="ms", conditions=operation))])[0]
        for operation in (CLOSE, OPEN)
    )
    assert (closed.verdict, opened.verdict) == (U, W)
    assert "0.06000 s, lies above the greatest, 0.04500 s" in closed.reason


def test_each_limit_names_its_line_of_the_nameplate(criteria: Criteria) -> None:
    rule = compile_rule(TIMING, Subject(**PLATE), criteria).to_json()
    assert {cite["row"] for cite in rule["cite"]} >= {
        "latest closing time",
        "earliest closing time",
        "greatest spread of the poles, closing",
    }
