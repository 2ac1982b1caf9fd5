"""The gate: each line appears with its cause, and goes when it is settled."""

from datetime import timedelta
from uuid import UUID

from tests.scenario import (
    CR,
    IR,
    LEAD,
    OTHER_LEAD,
    OWNER,
    RT,
    SECOND,
    TECHNICIAN,
    VI,
    Work,
    fixed_id,
)


def still(work: Work) -> dict[str, int]:
    """Return what stands in the way, with how many things of each kind."""
    found = work.gate()
    assert found.things == sum(len(line.items) for line in found.still)
    assert found.ready == ({line.code for line in found.still} <= {"seals"})
    return {line.code: len(line.items) for line in found.still}


def settled(work: Work) -> set[str]:
    return {line.code for line in work.gate().settled}


CARDS = 7  # of the round: three of the bus, three of the breaker, one of the relay
DUE = str(fixed_id("IR-DUE"))
BREAKER = ("breaker 52", IR)


def test_a_walk_from_an_empty_round_to_an_open_gate(opened: Work) -> None:
    """Every line comes and goes; nothing is approved before the last has gone."""
    assert still(opened) == {"incomplete": CARDS} and len(opened.cards) == CARDS
    assert settled(opened) == set() and not opened.gate().may_approve
    sign_what_is_complete(opened)
    better = dispose_of_what_is_not_within(opened)
    repeat_with_an_instrument_in_calibration(opened)
    close_what_stops_the_turnover(opened, better)
    return_and_withdraw(opened)
    opened.fill_all(by=SECOND)
    sign_and_approve(opened)


def sign_what_is_complete(work: Work) -> None:
    work.fill("bus", IR, sign=False)
    assert still(work) == {"incomplete": CARDS - 1, "unsigned": 1}
    work.sign(("bus", IR))
    assert still(work) == {"incomplete": CARDS - 1}
    assert settled(work) == {"safety", "safety_clearance", "calibration"}


def dispose_of_what_is_not_within(work: Work) -> UUID:
    """Outside, marginal and unjudged have a line each; rejected has its own."""
    work.confirm(*BREAKER)
    outside, marginal = work.read(*BREAKER, "1.0", "5.1")
    cold = {"humidity_pct": 50, "test_kv": 2.5}  # no temperature
    (unjudged,) = work.read(*BREAKER, "9.0", conditions=cold)
    verdicts = ("outside", "marginal", "unjudged")
    undisposed = {f"undisposed_{verdict}": 1 for verdict in verdicts}
    assert still(work) == {"incomplete": CARDS - 1, **undisposed}
    work.dispose(marginal, "use_as_is")
    work.dispose(unjudged, "accept_with_limits")
    assert still(work) == {"incomplete": CARDS - 1, "undisposed_outside": 1}
    assert "disposed" in settled(work)
    work.dispose(outside, "reject")
    assert still(work) == {"incomplete": CARDS - 1, "rejected": 1}
    better = work.again(*BREAKER, outside, "9.0")
    assert still(work) == {"incomplete": CARDS - 1}
    assert "superseded" in settled(work)
    return better


def repeat_with_an_instrument_in_calibration(work: Work) -> None:
    """A reading with an instrument past its day stands in one line, not in two."""
    (stale,) = work.read(*BREAKER, "41", instrument_id=DUE)
    assert still(work) == {"incomplete": CARDS - 1, "calibration": 1}
    assert "calibration" not in settled(work)
    work.again(*BREAKER, stale, "41")
    assert still(work) == {"incomplete": CARDS - 1}
    assert "calibration" in settled(work)


def close_what_stops_the_turnover(work: Work, retest: UUID) -> None:
    card = work.card(*BREAKER)
    common = {"text": "barrier dusty", "holder": "installer"}
    stops = work.entry(card, "deficiency", severity="stops_turnover", **common)
    follows = work.entry(card, "deficiency", severity="may_follow", **common)
    work.store(stops, follows)
    assert still(work) == {"incomplete": CARDS - 1, "deficiencies": 1}
    closing = {"deficiency_id": stops["key"], "reading_id": str(retest)}
    work.store(work.entry(card, "close_deficiency", text="cleaned", **closing))
    assert still(work) == {"incomplete": CARDS - 1}
    assert "closed" in settled(work)


def return_and_withdraw(work: Work) -> None:
    work.read(*BREAKER, "44", "39", "42", "43", "45")
    work.confirm(*BREAKER, after=True)
    work.sign(BREAKER)
    assert still(work) == {"incomplete": CARDS - 2}
    work.give_back(*BREAKER)
    (line,) = (one for one in work.gate().still if one.code == "unsigned")
    assert line.items[0].detail == "Returned to the technician"
    work.sign(BREAKER)
    work.withdraw("breaker 52", VI)
    assert still(work) == {"incomplete": CARDS - 3}


def sign_and_approve(work: Work) -> None:
    found = work.gate()
    assert found.ready and not found.may_approve
    assert still(work) == {"seals": 2}
    work.seal(TECHNICIAN, "performed")
    assert still(work) == {"seals": 1}
    work.seal(SECOND, "performed")
    assert still(work) == {}
    assert work.gate().may_approve
    work.seal(LEAD, "approved")
    assert work.gate().state == "approved"
    assert work.gate().why_not == "This round is approved already."


def test_the_counts_are_of_what_holds(opened: Work) -> None:
    opened.confirm("breaker 52", CR)
    *_, c = opened.read("breaker 52", CR, "38.6", "39.4", "61.7")
    opened.again("breaker 52", CR, c, "57.8")
    opened.withdraw("breaker 52", VI)
    counts = opened.gate().counts
    assert counts == {
        "readings": 3,
        "within": 2,
        "marginal": 1,  # 57.8 is below 1.5 times 38.6 by less than U
        "outside": 0,
        "unjudged": 0,
        "cards": len(opened.cards) - 1,
        "cards_signed": 0,
        "cards_withdrawn": 1,
        "deficiencies": 0,
        "deficiencies_open": 0,
        "superseded": 1,
    }


def test_a_moved_verdict_asks_for_a_new_disposition(confirmed: Work) -> None:
    """A disposition stands on the verdict that it was made on."""
    a, _, c = confirmed.read("bus", CR, "40", "40", "59.7")
    assert confirmed.verdicts("bus", CR)["phase C"] == "marginal"
    confirmed.dispose(c)
    assert "undisposed_marginal" not in still(confirmed)
    confirmed.again("bus", CR, a, "35")  # 1.5 times 35 is 52.5: now outside
    assert still(confirmed)["undisposed_outside"] == 1


def test_a_disposition_lets_a_reading_past_its_day_stand(confirmed: Work) -> None:
    due = str(fixed_id("IR-DUE"))
    (stale,) = confirmed.read("bus", IR, "9.0", instrument_id=due)
    assert still(confirmed)["calibration"] == 1
    confirmed.dispose(stale)
    assert "calibration" not in still(confirmed)


def test_who_may_sign_and_approve_and_why_not(complete: Work) -> None:
    """One performer of one card; the lead of another stands beside them."""
    work = complete
    may_sign = {p.sign_in: work.gate(p).may_sign for p in (TECHNICIAN, SECOND, LEAD)}
    assert may_sign == {"tern": True, "plover": False, "heron": False}
    assert "has not signed the package yet" in work.gate(LEAD).why_not
    assert TECHNICIAN.name in work.gate(LEAD).why_not
    work.seal(TECHNICIAN, "performed")
    assert not work.gate(TECHNICIAN).may_sign
    assert work.gate(TECHNICIAN).why_not == "Approval is the commissioning lead's."
    assert work.gate(LEAD).may_approve and work.gate(OTHER_LEAD).may_approve


def test_a_lead_who_signed_a_card_does_not_approve(complete: Work) -> None:
    complete.give_back("relay 51", RT)
    first = complete.facts("relay 51", RT).current[0]
    complete.again("relay 51", RT, first.id, first.text, by=OTHER_LEAD)
    complete.sign(("relay 51", RT))
    (line,) = (one for one in complete.gate().still if one.code == "unsigned")
    assert line.items[0].detail == (
        f"Waits for the signature of {OTHER_LEAD.name}, who took readings on it"
    )
    complete.sign(("relay 51", RT), by=OTHER_LEAD)
    complete.seal(TECHNICIAN, "performed")
    complete.seal(OTHER_LEAD, "performed")
    assert "somebody else has to approve" in complete.gate(OTHER_LEAD).why_not
    assert complete.gate(LEAD).may_approve


def test_a_lead_whose_reading_was_superseded_does_not_approve(confirmed: Work) -> None:
    """What is superseded stays visible, and so does who took it."""
    (first,) = confirmed.read("bus", IR, "9.0", by=LEAD)
    confirmed.again("bus", IR, first, "9.1")
    assert "somebody else has to approve" in confirmed.gate(LEAD).why_not


def test_the_owner_sees_the_gate_of_a_round_turned_over(complete: Work) -> None:
    complete.turn_over(accept=False)
    found = complete.gate(OWNER)
    assert (found.may_sign, found.may_approve, found.state) == (
        False,
        False,
        "approved",
    )


def test_preconditions_are_said_to_be_confirmed_only_where_the_times_say_so(
    earlier: Work,
) -> None:
    """A tablet that was without signal sends a reading of before the confirmations."""
    card = earlier.card("bus", CR)
    earlier.confirm_earlier("bus", CR)
    earlier.tick()
    earlier.store(earlier.reading(card, card.points[0], "40"))
    line = next(one for one in earlier.gate().settled if "recondition" in one.text)
    assert (line.mark, line.text) == (
        "done",
        "Preconditions confirmed before every reading",
    )
    early = (earlier.at - timedelta(days=1)).isoformat()
    early_one = earlier.reading(card, card.points[1], "41", at=early)
    earlier.store(early_one)
    late = UUID(early_one["key"])
    line = next(one for one in earlier.gate().settled if "recondition" in one.text)
    assert line.code == "preconditions_late"
    assert [item.target_id for item in line.items] == [late]
    again = earlier.reading(
        card, card.points[1], "41", supersedes=str(late), reason="too early"
    )
    earlier.store(again)  # what was done too early stays said
    codes = {one.code for one in earlier.gate().settled}
    assert "preconditions_late" in codes and "preconditions" not in codes
