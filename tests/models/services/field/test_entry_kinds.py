"""Confirmations, notes, deficiencies and their closing."""

from typing import Any
from uuid import UUID, uuid4

import pytest

from models.errors import ConflictError, InputError
from models.services.turnover.close_deficiency import close_deficiency
from tests.scenario import CR, IR, LEAD, SECOND, TECHNICIAN, Work

Change = dict[str, Any]
DEFICIENCY = {
    "text": "pole C cluster not seated",
    "holder": "installer",
    "severity": "stops_turnover",
}

# kind, what is sent -> the field that is found wrong, or "" where it is stored.
CASES: dict[str, tuple[str, Change, str]] = {
    "confirmed": ("confirm", {"code": "G01", "state": "confirmed"}, ""),
    "a code of another procedure": (
        "confirm",
        {"code": "CR1", "state": "confirmed"},
        "code",
    ),
    "a code that is none": ("confirm", {"code": None, "state": "confirmed"}, "code"),
    "a state that is none": ("confirm", {"code": "G01", "state": "done"}, "state"),
    "not applicable, no reason": (
        "confirm",
        {"code": "G01", "state": "not_applicable"},
        "reason",
    ),
    "not applicable, blank reason": (
        "confirm",
        {"code": "G01", "state": "not_applicable", "reason": " \n"},
        "reason",
    ),
    "not applicable, with a reason": (
        "confirm",
        {"code": "G01", "state": "not_applicable", "reason": "no earthing switch"},
        "",
    ),
    "a note": ("note", {"text": "rain"}, ""),
    "a note of the greatest length": ("note", {"text": "x" * 4000}, ""),
    "a note too long": ("note", {"text": "x" * 4001}, "text"),
    "an empty note": ("note", {"text": ""}, "text"),
    "a note of blanks": ("note", {"text": " \t "}, "text"),
    "a note that is no text": ("note", {"text": ["rain"]}, "text"),
    "a note in any script": ("note", {"text": "湿度 58 % · ß · 🔧"}, ""),
    "a deficiency": ("deficiency", DEFICIENCY, ""),
    "a deficiency without a holder": (
        "deficiency",
        DEFICIENCY | {"holder": ""},
        "holder",
    ),
    "a deficiency without words": ("deficiency", DEFICIENCY | {"text": None}, "text"),
    "a severity that is none": (
        "deficiency",
        DEFICIENCY | {"severity": "dire"},
        "severity",
    ),
    "a reading that is not there": (
        "deficiency",
        DEFICIENCY | {"reading_id": str(uuid4())},
        "reading_id",
    ),
    "a reading that is no identifier": (
        "deficiency",
        DEFICIENCY | {"reading_id": "first"},
        "reading_id",
    ),
    "closing what is not there": (
        "close_deficiency",
        {"text": "done", "deficiency_id": str(uuid4())},
        "deficiency_id",
    ),
    "closing nothing": ("close_deficiency", {"text": "done"}, "deficiency_id"),
    "closing without words": (
        "close_deficiency",
        {"text": "", "deficiency_id": str(uuid4())},
        "text",
    ),
}


@pytest.mark.any_database
def test_each_kind_says_which_field_is_wrong(earlier: Work) -> None:
    card = earlier.card("bus", IR)
    got = {}
    for case, (kind, fields, _) in CASES.items():
        (answer,) = earlier.send(earlier.entry(card, kind, **fields))
        got[case] = " ".join(f["field"] for f in answer["faults"])
        assert answer["status"] == ("refused" if answer["faults"] else "stored"), case
    assert got == {case: field for case, (_, _, field) in CASES.items()}


def test_a_confirmation_carries_name_time_and_words(earlier: Work) -> None:
    card = earlier.card("bus", IR)
    (answer,) = earlier.send(
        earlier.entry(card, "confirm", code="G01", state="confirmed"), by=SECOND
    )
    (shown,) = answer["card"]["confirmed"]
    assert shown == {
        "code": "G01",
        "state": "confirmed",
        "reason": None,
        "by": SECOND.name,
        "at": "2026-03-02T21:00:00Z",
    }
    (row,) = earlier.facts("bus", IR).confirmations
    assert len(row.text) > 20  # the sentence itself, as it read on that day


def test_deficiencies_are_numbered_within_the_round(confirmed: Work) -> None:
    for procedure in (IR, CR, IR):
        card = confirmed.card("breaker 52", procedure)
        confirmed.store(confirmed.entry(card, "deficiency", **DEFICIENCY))
    found = [
        d.number
        for procedure in (IR, CR)
        for d in confirmed.facts("breaker 52", procedure).deficiencies
    ]
    assert sorted(found) == [1, 2, 3]


# Closing


def raised(work: Work, reading: UUID | None) -> str:
    """Raise a deficiency on the contact resistance card; return its key."""
    entry = work.entry(
        work.card("breaker 52", CR),
        "deficiency",
        reading_id=str(reading) if reading else None,
        **DEFICIENCY,
    )
    work.store(entry)
    return str(entry["key"])


def close(work: Work, deficiency: str, retest: UUID | None) -> dict[str, Any]:
    entry = work.entry(
        work.card("breaker 52", CR),
        "close_deficiency",
        deficiency_id=deficiency,
        reading_id=str(retest) if retest else None,
        text="cluster seated anew",
    )
    found: dict[str, Any] = work.send(entry)[0]
    return found


def words(answer: dict[str, Any]) -> str:
    return " ".join(f"{f['field']}: {f['message']}" for f in answer["faults"])


def test_a_deficiency_on_a_reading_is_closed_by_a_retest_there(confirmed: Work) -> None:
    a, _, c = confirmed.read("breaker 52", CR, "38.6", "39.4", "61.7")
    key = raised(confirmed, c)
    assert "Choose the retest" in words(close(confirmed, key, None))
    assert "Measure the same point again" in words(close(confirmed, key, a))
    assert "does not show" in words(close(confirmed, key, c))
    bad = confirmed.again("breaker 52", CR, c, "63.0")
    assert "This reading is outside" in words(close(confirmed, key, bad))
    good = confirmed.again("breaker 52", CR, bad, "39.9")
    assert "superseded" in words(close(confirmed, key, bad))
    answer = close(confirmed, key, good)
    assert answer["status"] == "stored"
    (shown,) = answer["card"]["deficiencies"]
    assert (shown["state"], shown["closing_reading_id"]) == ("closed", str(good))
    assert (shown["closed_by"], shown["closing_text"]) == (
        TECHNICIAN.name,
        "cluster seated anew",
    )
    assert "closed already" in words(close(confirmed, key, good))


def test_a_retest_that_the_lead_let_stand_closes_too(confirmed: Work) -> None:
    *_, c = confirmed.read("breaker 52", CR, "38.6", "39.4", "61.7")
    key = raised(confirmed, c)
    again = confirmed.again("breaker 52", CR, c, "61.0")
    confirmed.dispose(again, "reject")
    assert "This reading is outside" in words(close(confirmed, key, again))
    confirmed.dispose(again, "accept_with_limits")
    assert close(confirmed, key, again)["status"] == "stored"


def test_a_deficiency_on_no_reading_is_closed_with_words(confirmed: Work) -> None:
    confirmed.read("breaker 52", CR, "38.6", "39.4", "61.7")
    key = raised(confirmed, None)
    assert close(confirmed, key, None)["status"] == "stored"


def test_a_retest_of_another_card_does_not_close(confirmed: Work) -> None:
    *_, c = confirmed.read("breaker 52", CR, "38.6", "39.4", "61.7")
    (elsewhere,) = confirmed.read("bus", CR, "24")
    key = raised(confirmed, c)
    assert "No such reading on this card" in words(close(confirmed, key, elsewhere))


def test_from_the_desk_a_deficiency_closes_on_a_signed_card(confirmed: Work) -> None:
    confirmed.read("breaker 52", CR, "38.6", "39.4", "40.2")
    confirmed.confirm("breaker 52", CR, after=True)
    key = UUID(raised(confirmed, None))
    confirmed.sign(("breaker 52", CR))
    assert close(confirmed, str(key), None)["status"] == "conflict"

    def from_desk(text: str) -> None:
        close_deficiency(
            confirmed.session,
            person_id=LEAD.id,
            deficiency_id=key,
            closing_id=uuid4(),
            reading_id=None,
            text=text,
            now=confirmed.tick(),
        )

    for wrong in ("", "  ", "x" * 4001, "zero \x00"):
        with pytest.raises(InputError) as refused:
            from_desk(wrong)
        assert [f.field for f in refused.value.faults] == ["text"]
    from_desk("  seated anew ")
    with pytest.raises(ConflictError, match="D-001 is closed already"):
        from_desk("twice")
    facts = confirmed.facts("breaker 52", CR)
    closing = facts.deficiencies[0].closing
    assert closing is not None
    assert (closing.text, closing.by_id) == ("seated anew", LEAD.id)
    assert facts.state == "signed"
