"""A reading: refused with the field that is wrong, or kept as typed and judged."""

import itertools
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from models.words import say
from tests.laws import costly
from tests.scenario import CR, DW, IR, RT, SECOND, VI, Work, fixed_id

Change = dict[str, Any]


def warm(**changes: Any) -> Change:
    """Return the conditions of an insulation reading, some of them changed."""
    given = {"temperature_c": 20, "humidity_pct": 50, "test_kv": 2.5, **changes}
    return {"conditions": {k: v for k, v in given.items() if v is not None}}


# What is sent instead -> the fields that are found wrong.
REFUSED: dict[str, tuple[Change, list[str]]] = {
    "not a number": ({"text": "nine"}, ["text"]),
    "nothing": ({"text": ""}, ["text"]),
    "no text at all": ({"text": None}, ["text"]),
    "a decimal comma": ({"text": "9,1"}, ["text"]),
    "a negative resistance": ({"text": "-9.1"}, ["text"]),
    "out of all proportion": ({"text": "9e99"}, ["text"]),
    "longer than any figure": ({"text": "0" * 40 + "9"}, ["text"]),
    "an outcome of another test": ({"text": "held"}, ["text"]),
    "a unit of another quantity": ({"unit": "s"}, ["unit"]),
    "no unit": ({"unit": None}, ["unit"]),
    "a unit that is a list": ({"unit": ["GOhm"]}, ["unit"]),
    "a unit that is a number": ({"unit": 9}, ["unit"]),
    "a point of no card": ({"point_id": str(uuid4())}, ["point_id"]),
    "no point": ({"point_id": None}, ["point_id"]),
    "conditions in a list": ({"conditions": [20]}, ["conditions"]),
    "a condition not asked for": (warm(test_current_a=100), ["test_current_a"]),
    "a temperature in words": (warm(temperature_c="warm"), ["temperature_c"]),
    "a temperature that is a bound": (warm(temperature_c=">20"), ["temperature_c"]),
    "a negative test voltage": (warm(test_kv=-2.5), ["test_kv"]),
    "a negative humidity": (warm(humidity_pct="-1"), ["humidity_pct"]),
    "a temperature below what there is": (
        warm(temperature_c=-300),
        ["temperature_c"],
    ),
    "air below what there is": (
        warm(air_temperature_c=-274),
        ["air_temperature_c"],
    ),
    "more humid than can be": (warm(humidity_pct=130), ["humidity_pct"]),
    "readings over time without a value": (warm(timed="15:1.2 30:"), ["timed"]),
    "readings over time in a list": (warm(timed=["15:1.2"]), ["timed"]),
    "steps that fall": (warm(steps="5:4.1 1:5.2"), ["steps"]),
    "a row of another test": (warm(leakage="10:3.1"), ["leakage"]),
    "no instrument": ({"instrument_id": None}, ["instrument_id"]),
    "an instrument that is not there": (
        {"instrument_id": str(uuid4())},
        ["instrument_id"],
    ),
    "an instrument of another firm": (
        {"instrument_id": str(fixed_id("IR-ALIEN"))},
        ["instrument_id"],
    ),
    "an instrument for another test": (
        {"instrument_id": str(fixed_id("CR-1"))},
        ["instrument_id"],
    ),
    "an instrument that is no identifier": (
        {"instrument_id": "IR-1"},
        ["instrument_id"],
    ),
    "superseding what is not there": (
        {"supersedes": str(uuid4()), "reason": "again"},
        ["supersedes"],
    ),
    "several at once": (
        {"text": "x", "point_id": "", "instrument_id": "", **warm(test_kv="high")},
        ["point_id", "text", "test_kv", "instrument_id"],
    ),
}


@pytest.mark.any_database
def test_what_cannot_be_a_reading_is_refused_field_by_field(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    got = {}
    for case, (change, _) in REFUSED.items():
        entry = confirmed.reading(card, card.points[0], "9.0") | change
        (answer,) = confirmed.send(entry)
        got[case] = [fault["field"] for fault in answer["faults"]]
        assert answer["status"] == ("refused" if got[case] else "stored"), case
        assert all(fault["message"] for fault in answer["faults"]), case
    assert got == {case: fields for case, (_, fields) in REFUSED.items()}
    assert confirmed.facts("bus", IR).readings == []


# What is sent -> verdict, and words of its reason. All of it is kept.
KEPT: dict[str, tuple[str, Change, str, str]] = {
    "well above": ("9.0", {}, "within", ""),
    "well below": ("1.0", {}, "outside", ""),
    "within the tester's uncertainty": ("5.1", {}, "marginal", ""),
    "over range": (">200", {}, "within", ""),
    "over range, short of the limit": (">2", {}, "unjudged", ""),
    "in megohms": ("9000", {"unit": "MΩ"}, "within", ""),
    "no temperature": ("9.0", warm(temperature_c=None), "unjudged", "not known"),
    "hotter than the table": (
        "9.0",
        warm(temperature_c=111),
        "unjudged",
        "outside the correction table",
    ),
    "colder than the table": (
        "9.0",
        warm(temperature_c=-11),
        "unjudged",
        "outside the correction table",
    ),
    "too low a voltage": ("9.0", warm(test_kv=1), "unjudged", "below the 2.5 kV"),
    "no voltage": ("9.0", warm(test_kv=""), "unjudged", "not known"),
    "numbers as text": ("9.0", warm(temperature_c="20.0", test_kv="2.5"), "within", ""),
    "spaces around": (" 9.0 ", {}, "within", ""),
    "nothing at all on the display": ("0", {}, "outside", ""),
    "an instrument past its day at the site": (
        "9.0",
        {"instrument_id": str(fixed_id("IR-DUE"))},
        "unjudged",
        say("calibration.out"),
    ),
    "an instrument calibrated on that day at the site": (
        "9.0",
        {"instrument_id": str(fixed_id("IR-NEW"))},
        "within",
        "",
    ),
    "outside, with an instrument past its day": (
        "1.0",
        {"instrument_id": str(fixed_id("IR-DUE"))},
        "outside",
        "",
    ),
}


def test_what_may_be_a_reading_is_kept_as_typed_with_its_verdict(
    confirmed: Work,
) -> None:
    card = confirmed.card("bus", IR)
    for case, (text, change, verdict, words) in KEPT.items():
        with confirmed.session.begin_nested() as savepoint:
            entry = confirmed.reading(card, card.points[0], text, **change)
            confirmed.store(entry)
            facts = confirmed.facts("bus", IR)
            (row,) = facts.readings
            assert row.text == text, case
            assert str(row.id) == entry["key"]
            body = facts.say(row.judgements[-1])
            assert (row.judgements[-1].verdict, len(row.judgements)) == (verdict, 1), (
                case,
                body["reason"],
            )
            assert words in body["reason"], case
            assert body["working"], case
            savepoint.rollback()


def test_a_reading_carries_all_that_it_was_taken_with(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    confirmed.confirm("bus", IR, by=SECOND)
    taken = confirmed.tick(minutes=1)
    confirmed.tick(minutes=9)
    confirmed.store(
        confirmed.reading(card, card.points[1], ">200", at=taken.isoformat()),
        by=SECOND,
    )
    (row,) = confirmed.facts("bus", IR).readings
    assert (row.low, row.high, row.outcome, row.unit) == (200.0, None, None, "GOhm")
    assert row.conditions == {"temperature_c": 20, "humidity_pct": 50, "test_kv": 2.5}
    assert row.instrument.tag == "IR-1"
    assert row.calibration is not None
    assert row.calibration.certificate_no == "N-IR-1"
    assert row.accuracy == {"pct": 5.0, "fixed": 0.02, "unit": "GOhm"}
    assert row.rule == card.points[1].rule
    assert (row.by_id, row.device) == (SECOND.id, "tablet 1")
    assert (row.taken_at, row.arrived_at) == (taken, confirmed.at)


def test_a_number_in_the_place_of_text_is_kept_as_its_text(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    entries = [confirmed.reading(card, p, "") for p in card.points[:2]]
    confirmed.store(entries[0] | {"text": 0}, entries[1] | {"text": 9.5})
    assert [r.text for r in confirmed.facts("bus", IR).readings] == ["0", "9.5"]


def test_a_withstand_s_temperature_is_that_of_the_air(confirmed: Work) -> None:
    """A tablet with an older round sends it by the name that it had then."""
    card = confirmed.card("bus", DW)
    given = {"supply": "ac", "test_kv": 27, "duration_s": 60}
    confirmed.confirm("bus", DW, conditions=given)
    for point, name in zip(
        card.points[:2], ("temperature_c", "air_temperature_c"), strict=True
    ):
        warm = {**given, name: 12, "humidity_pct": 60}
        confirmed.store(confirmed.reading(card, point, "held", conditions=warm))
    rows = confirmed.facts("bus", DW).readings
    assert [row.conditions for row in rows] == [
        {**given, "air_temperature_c": 12, "humidity_pct": 60}
    ] * 2


def test_an_outcome_has_no_number_and_no_unit(confirmed: Work) -> None:
    confirmed.read("breaker 52", VI, "held")
    (row,) = confirmed.facts("breaker 52", VI).readings
    assert (row.low, row.high, row.outcome, row.unit) == (None, None, "held", None)


def test_what_the_programme_fixes_is_among_the_conditions(confirmed: Work) -> None:
    """0.95 times a pickup of 480 A is 456 A."""
    confirmed.read("relay 51", RT, "no_trip")
    (row,) = confirmed.facts("relay 51", RT).readings
    assert row.conditions == {"applied_a": 456.0}


def test_a_row_of_readings_goes_with_its_reading_as_typed(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    row = warm(timed=" 30:5.0\u00a0 60:9.00  600:>20 ", steps="1:9.1 2.5:9.0")
    confirmed.store(confirmed.reading(card, card.points[0], "9.00", **row))
    (reading,) = confirmed.facts("bus", IR).readings
    assert reading.conditions["timed"] == "30:5.0 60:9.00 600:>20"
    assert reading.conditions["steps"] == "1:9.1 2.5:9.0"
    assert reading.judgements[-1].verdict == "within"


@pytest.mark.any_database
def test_leakage_is_of_a_dc_withstand_only(confirmed: Work) -> None:
    confirmed.confirm("bus", DW, conditions={"supply": "dc"})
    card = confirmed.card("bus", DW)
    row = {"test_kv": 27, "duration_s": 60, "leakage": "10:3.1 20:6.0"}
    entry = confirmed.reading(
        card, card.points[0], "held", conditions={"supply": "ac", **row}
    )
    (answer,) = confirmed.send(entry)
    assert [fault["field"] for fault in answer["faults"]] == ["leakage"]
    confirmed.store(entry | {"conditions": {"supply": "dc", **row}})
    (reading,) = confirmed.facts("bus", DW).readings
    assert reading.conditions["leakage"] == "10:3.1 20:6.0"


@pytest.mark.any_database
def test_a_choice_must_be_one_of_those_offered(confirmed: Work) -> None:
    confirmed.confirm("breaker 52", VI)
    card = confirmed.card("breaker 52", VI)
    wrong: list[Any] = ["water", ["ac"], {"ac": 1}, 3]
    for method in wrong:
        conditions = {"method": method, "test_kv": 27, "duration_s": 60}
        (answer,) = confirmed.send(
            confirmed.reading(card, card.points[0], "held", conditions=conditions)
        )
        assert [f["field"] for f in answer["faults"]] == ["method"], method


@pytest.mark.any_database
def test_no_reading_before_the_lines_of_safety(opened: Work) -> None:
    card = opened.card("bus", IR)
    entry = opened.reading(card, card.points[0], "9.0")
    (answer,) = opened.send(entry)
    assert answer["status"] == "refused"
    assert {fault["field"] for fault in answer["faults"]} == {"safety"}
    assert "No crew is open" in answer["faults"][0]["message"]
    opened.confirm("bus", IR)
    again = opened.reading(card, card.points[0], "9.0")
    assert opened.send(again)[0]["status"] == "stored"


def test_another_card_s_lines_open_no_card(opened: Work) -> None:
    card = opened.card("bus", IR)
    opened.confirm("bus", CR)
    (answer,) = opened.send(opened.reading(card, card.points[0], "9.0"))
    (fault,) = answer["faults"]
    assert fault["field"] == "safety" and "of this card" in fault["message"]


def test_what_does_not_apply_with_a_reason_opens_the_card_too(opened: Work) -> None:
    card = opened.card("bus", IR)
    opened.confirm("bus", IR)
    opened.tick(minutes=1)
    plain = opened.line(card, "T6", state="not_applicable")
    assert opened.send(plain)[0]["faults"][0]["field"] == "reason"
    assert (
        opened.send(plain | {"reason": "no surge arresters"})[0]["status"] == "stored"
    )
    entry = opened.reading(card, card.points[0], "9.0")
    assert opened.send(entry)[0]["status"] == "stored"


# A round that was begun before safety had scopes


@pytest.mark.any_database
def test_the_earlier_list_opens_a_card_of_an_earlier_round(earlier: Work) -> None:
    card = earlier.card("bus", IR)
    entry = earlier.reading(card, card.points[0], "9.0")
    (answer,) = earlier.send(entry)
    assert answer["status"] == "refused"
    earlier.confirm_earlier("bus", IR)
    assert earlier.send(entry)[0]["status"] == "stored"


def test_a_round_by_scopes_takes_no_confirmation_of_the_earlier_list(
    opened: Work,
) -> None:
    card = opened.card("bus", IR)
    sent = opened.entry(card, "confirm", code="G01", state="confirmed")
    (answer,) = opened.send(sent)
    assert answer["status"] == "conflict"
    assert "scopes of safety" in answer["faults"][0]["message"]


# Measuring again


def test_a_second_reading_at_a_point_needs_to_supersede(confirmed: Work) -> None:
    (first,) = confirmed.read("bus", IR, "9.0")
    card = confirmed.card("bus", IR)
    (answer,) = confirmed.send(confirmed.reading(card, card.points[0], "9.1"))
    assert answer["status"] == "conflict"
    assert "A-G has a reading already (9.0 GΩ)" in answer["faults"][0]["message"]
    assert [r.id for r in confirmed.facts("bus", IR).current] == [first]


REASONS: dict[str, Any] = {
    "none": None,
    "blank": "  ",
    "no text": 7,
    "too long": "x" * 4001,
}


@pytest.mark.any_database
def test_superseding_needs_a_reason(confirmed: Work) -> None:
    (first,) = confirmed.read("bus", IR, "9.0")
    card = confirmed.card("bus", IR)
    for case, reason in REASONS.items():
        (answer,) = confirmed.send(
            confirmed.reading(
                card, card.points[0], "9.1", supersedes=str(first), reason=reason
            )
        )
        assert [f["field"] for f in answer["faults"]] == ["reason"], case
    confirmed.again("bus", IR, first, "9.1", reason="x" * 4000)
    facts = confirmed.facts("bus", IR)
    assert [(r.text, r.supersedes_id) for r in facts.readings] == [
        ("9.0", None),
        ("9.1", first),
    ]
    assert [r.text for r in facts.current] == ["9.1"]


def test_only_the_reading_that_holds_can_be_superseded(confirmed: Work) -> None:
    first, other = confirmed.read("bus", IR, "9.0", "9.5")
    confirmed.again("bus", IR, first, "9.1")
    card = confirmed.card("bus", IR)
    for case, wrong in {"superseded already": first, "of another point": other}.items():
        (answer,) = confirmed.send(
            confirmed.reading(
                card, card.points[0], "9.2", supersedes=str(wrong), reason="again"
            )
        )
        assert [f["field"] for f in answer["faults"]] == ["supersedes"], case


# Readings of a group


def test_a_retest_moves_the_verdicts_of_its_group_and_keeps_the_old_ones(
    confirmed: Work,
) -> None:
    """Poles at 38.6, 39.4 and 90: a lowest of 38.6 allows 57.9 (practice: 1.5 times).

    A lowest of 20.0 after the retest allows 30: now the two others are outside.
    """
    card = confirmed.card("bus", CR)  # no maker's limit
    a, b, c = confirmed.read("bus", CR, "38.6", "39.4", "90")
    assert confirmed.verdicts("bus", CR) == {
        "phase A": "within",
        "phase B": "within",
        "phase C": "outside",
    }
    confirmed.again("bus", CR, c, "20.0")
    assert confirmed.verdicts("bus", CR) == {
        "phase A": "outside",
        "phase B": "outside",
        "phase C": "within",
    }
    rows = {r.id: r for r in confirmed.facts("bus", CR).readings}
    assert len(rows) == 4 and card.id == rows[a].card_id
    history = [[j.verdict for j in rows[key].judgements] for key in (a, b, c)]
    assert history[0][0] == "unjudged"  # alone, there was nothing to compare with
    assert (history[0][-2:], history[1][-1]) == (["within", "outside"], "outside")
    assert history[2] == ["outside"]  # superseded: judged no more
    for row in rows.values():
        assert [j.seq for j in row.judgements] == list(
            range(1, len(row.judgements) + 1)
        )


def test_groups_of_one_card_do_not_touch_each_other(confirmed: Work) -> None:
    """Insulation across open poles is no measure for that to ground."""
    confirmed.read("breaker 52", IR, "9.0", "9.5", "9.2", *["41"] * 6)
    for row in confirmed.facts("breaker 52", IR).readings:
        assert len(row.judgements) == 1


TEXTS = ("38.6", "39.4", "61.7")


def test_the_order_of_arrival_does_not_change_the_final_verdicts(
    confirmed: Work,
) -> None:
    card = confirmed.card("bus", CR)
    got = set()
    for order in itertools.permutations(range(3)):
        with confirmed.session.begin_nested() as savepoint:
            confirmed.confirm("bus", CR)
            for at in order:
                confirmed.tick()
                confirmed.store(confirmed.reading(card, card.points[at], TEXTS[at]))
            facts = confirmed.facts("bus", CR)
            bodies = {
                r.point.label: (
                    r.judgements[-1].verdict,
                    r.judgements[-1].corrected,
                    r.judgements[-1].limit_high,
                )
                for r in facts.current
            }
            got.add(tuple(sorted(bodies.items())))
            savepoint.rollback()
    assert len(got) == 1
    assert [verdict for _, (verdict, *_rest) in next(iter(got))] == [
        "within",
        "within",
        "outside",
    ]


@pytest.mark.property
@costly(12, house=6, allowed=(HealthCheck.function_scoped_fixture,))
@given(
    texts=st.lists(
        st.sampled_from(["<5", "10", "14.9", "15", "15.1", "22", "60", ">9", ">100"]),
        min_size=3,
        max_size=3,
    ),
    order=st.permutations(range(3)),
)
def test_any_order_of_any_readings_gives_the_same_verdicts(
    confirmed: Work, texts: list[str], order: list[int]
) -> None:
    card = confirmed.card("bus", CR)

    def verdicts_after(sequence: list[int]) -> dict[str, str]:
        with confirmed.session.begin_nested() as savepoint:
            confirmed.confirm("bus", CR)
            confirmed.store(
                *(confirmed.reading(card, card.points[n], texts[n]) for n in sequence)
            )
            found = confirmed.verdicts("bus", CR)
            savepoint.rollback()
        return found

    assert verdicts_after(order) == verdicts_after([0, 1, 2])
