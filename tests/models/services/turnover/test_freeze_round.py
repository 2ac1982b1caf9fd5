"""The frozen round: the same every time, and complete."""

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

from sqlalchemy import select

from models.files.folder_store import FolderStore
from models.judging import Accuracy, Reading, Rule
from models.procedures import judge
from models.schema import ConfirmedTogether, Round
from models.services.field.card_facts import gather, round_cards
from models.services.keeping.log import head, texted
from models.services.turnover.freeze_round import content_digest
from models.services.turnover.package import draft_document
from models.services.turnover.seals_wanted import seals_wanted
from tests.attaching import put
from tests.models.services.keeping.tampering import change, without_triggers
from tests.scenario import CR, IR, LEAD, TECHNICIAN, VI, Work, fixed_id


def content(work: Work) -> dict[str, Any]:
    session = work.session
    session.expire_all()
    round_ = session.get_one(Round, work.round_id)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    return seals_wanted(session, round_, facts).content


def test_the_digest_does_not_depend_on_where_rows_lie(complete: Work) -> None:
    """Rows that were written at the same moment have an order of their own."""
    before = content_digest(content(complete))
    without_triggers(complete.session, "confirmed_together")
    ids = complete.session.scalars(select(ConfirmedTogether.id)).all()
    for row in ids[::3]:  # a row that is written anew moves, on PostgreSQL
        change(complete.session, "confirmed_together", "items = items", row)
    assert content_digest(content(complete)) == before


def numbers(value: Any) -> Any:
    """Return a frozen value with its texts read as numbers again, where they are."""
    if isinstance(value, dict):
        return {key: numbers(item) for key, item in value.items()}
    if isinstance(value, list):
        return [numbers(item) for item in value]
    try:
        return float(value) if isinstance(value, str) else value
    except ValueError:
        return value


def test_every_verdict_follows_from_the_package_alone(compared: Work) -> None:
    """In thirty years there is the document and a reader of rules, and no database."""
    document = texted(content(compared))
    judged = 0
    for card in document["cards"]:
        groups: dict[str, list[dict[str, Any]]] = {}
        for reading in card["readings"]:
            if reading["superseded_by"] is None:
                groups.setdefault(reading["group"], []).append(reading)
        for readings in groups.values():
            items = [_item(card, reading) for reading in readings]
            for reading, found in zip(readings, judge(items), strict=True):
                said = reading["judgement"]
                assert str(found.verdict) == said["verdict"]
                assert texted(found.corrected) == said["corrected"]
                judged += 1
    assert judged == 14


def _item(card: dict[str, Any], reading: dict[str, Any]) -> tuple[Rule, Reading]:
    accuracy = reading["accuracy"]
    rule = Rule.from_json(numbers(card["rules"][reading["rule"]]))
    return rule, Reading(
        key=reading["id"],
        text=reading["text"],
        unit=reading["unit"],
        accuracy=Accuracy(**numbers(accuracy)) if accuracy else None,
        conditions=numbers(reading["conditions"]),
    )


def stale(work: Work) -> None:
    due = str(fixed_id("IR-DUE"))
    first = work.facts("bus", IR).current[0]
    work.give_back("bus", IR)
    work.again("bus", IR, first.id, "9.0", instrument_id=due)
    work.sign(("bus", IR))


def again(text: str, decision: str | None = None) -> Callable[[Work], None]:
    """Return an act: the first point measured again, disposed of, signed."""

    def act(work: Work) -> None:
        first = work.facts("bus", IR).current[0]
        work.give_back("bus", IR)
        key = work.again("bus", IR, first.id, text)
        if decision:
            work.dispose(key, decision)
        work.sign(("bus", IR))

    return act


def deficiency(severity: str) -> Callable[[Work], None]:
    """Return an act: a deficiency raised, the card signed again."""

    def act(work: Work) -> None:
        work.give_back("bus", IR)
        work.store(
            work.entry(
                work.card("bus", IR),
                "deficiency",
                text="dust",
                holder="installer",
                severity=severity,
            )
        )
        work.sign(("bus", IR))

    return act


def left_out(work: Work, *, agreed: bool = True) -> None:
    work.give_back("breaker 52", VI)
    work.withdraw("breaker 52", VI, agreed=agreed)


C, D, N, X = "conforms", "conforms_with_deviations", "not_complete", "does_not_conform"
# What happened on a round that was within and signed -> what may be said of it.
CONFORMS: dict[str, tuple[Callable[[Work], None], str]] = {
    "nothing": (lambda _: None, C),
    "measured again, within": (again("9.1"), C),
    "outside": (again("1.0"), X),
    "outside, let stand": (again("1.0", "use_as_is"), X),
    "marginal": (again("5.1"), X),
    "marginal, let stand": (again("5.1", "use_as_is"), D),
    "marginal, let stand with limits": (again("5.1", "accept_with_limits"), D),
    "marginal, rejected": (again("5.1", "reject"), X),
    "unjudged, let stand": (again(">2", "use_as_is"), X),  # unknown is no pass
    "an instrument past its day": (stale, X),
    "a card handed back": (lambda work: work.give_back("bus", IR), N),
    "a card withdrawn": (left_out, D),
    "a card withdrawn, not agreed to": (lambda work: left_out(work, agreed=False), N),
    "a deficiency that stops turnover": (deficiency("stops_turnover"), X),
    "a deficiency that may follow": (deficiency("may_follow"), D),
}


def test_whether_a_round_conforms_and_that_all_of_it_is_in_the_digest(
    complete: Work,
) -> None:
    """Reading it again gives the same digest, whatever is recorded another."""
    got, digests = {}, [content_digest(content(complete))]
    for case, (act, _) in CONFORMS.items():
        with complete.session.begin_nested() as savepoint:
            act(complete)
            found = content(complete)
            got[case] = found["conformity"]["word"]
            digests.append(content_digest(found))
            savepoint.rollback()
    assert got == {case: wanted for case, (_, wanted) in CONFORMS.items()}
    assert digests[0] == digests[1]  # nothing happened
    assert len(set(digests)) == len(CONFORMS)


def test_a_frozen_document_names_time_log_and_seals(complete: Work) -> None:
    document = draft_document(
        complete.session, person_id=LEAD.id, round_id=complete.round_id, now=complete.at
    )
    seq, last = head(complete.session)
    assert document["log"] == {"seq": seq, "head": last}
    assert document["made_at"] == complete.at.isoformat().replace("+00:00", "Z")
    assert [(s["field"], s["person"]) for s in document["seals"]] == [
        ("performed_1", TECHNICIAN.name),
        ("approved", ""),
    ]
    assert document["summary"]["readings"] == 32
    assert document["summary"]["within"] == 32
    tags = [one["tag"] for one in document["instruments"]]
    assert tags == ["CR-1", "HV-1", "IR-1", "RT-1"]
    assert document["instruments"][0]["accuracy"] == "0.5 % of reading + 0.2 uOhm"


def test_a_withdrawn_card_is_printed_with_its_reason(complete: Work) -> None:
    left_out(complete)
    sheets = content(complete)["cards"]
    (sheet,) = (s for s in sheets if s["state"] == "withdrawn")
    assert sheet["withdrawn"]["reason"] == "the maker tests it at the works"
    assert [r["text"] for r in sheet["readings"]] == ["held"] * 3
    assert sheet["signatures"] == []


def test_a_sheet_shows_readings_as_they_were_taken(complete: Work) -> None:
    sheet = next(s for s in content(complete)["cards"] if s["procedure"] == CR)
    rows = complete.facts(sheet["apparatus"], CR).readings
    for shown, row in zip(sheet["readings"], rows, strict=True):
        wanted = {
            "text": row.text,
            "unit": row.unit,
            "conditions": row.conditions,
            "by": TECHNICIAN.name,
            "taken_at": row.taken_at.isoformat().replace("+00:00", "Z"),
        }
        assert {name: shown[name] for name in wanted} == wanted


def test_files_of_the_round_stand_in_the_package_with_their_digests(
    complete: Work, tmp_path: Path
) -> None:
    store, card = FolderStore(tmp_path), complete.card("breaker 52", CR)
    before = content_digest(content(complete))
    reading = complete.facts("breaker 52", CR).current[0]
    places = {
        "calibration": fixed_id("CR-1 calibration"),
        "card": card.id,
        "reading": reading.id,
        "round": complete.round_id,
    }
    for subject, key in places.items():
        put(complete, store, subject, key, content=subject.encode())
    # Not of this round: an instrument that nobody used, and the lineup itself.
    put(complete, store, "calibration", fixed_id("IR-DUE calibration"))
    put(complete, store, "lineup", card.round.lineup_id)
    found = content(complete)
    assert content_digest(found) != before
    assert {f["subject"]: f["sha256"] for f in found["files"]} == {
        subject: sha256(subject.encode()).hexdigest() for subject in places
    }
    assert [f["where"] for f in found["files"]] == [
        "CR-1, certificate N-CR-1",
        "Cell 1 · breaker 52 · contact resistance",
        f"Cell 1 · breaker 52 · contact resistance · {reading.point.label}",
        card.round.title,
    ]
