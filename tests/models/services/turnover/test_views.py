"""What pages and tablets are shown: the round document, sheets, cards as records."""

import json
from uuid import UUID, uuid4

import pytest

from models.errors import NotFoundError
from models.services.field.round_document import round_document
from models.services.keeping.log import stamp
from models.services.setup.nameplate import nameplate_lines
from models.services.turnover.card_record import (
    card_of_deficiency,
    card_of_reading,
    card_record,
)
from models.services.turnover.list_rounds import list_rounds
from models.services.turnover.round_overview import round_overview
from tests.scenario import CR, IR, LEAD, RT, SECOND, TECHNICIAN, VI, Work


def test_the_round_document_has_all_that_a_tablet_needs(confirmed: Work) -> None:
    confirmed.read("bus", IR, "9.0")
    document = round_document(
        confirmed.session,
        person_id=TECHNICIAN.id,
        round_id=confirmed.round_id,
        now=confirmed.at,
    )
    json.dumps(document)  # plain JSON values only
    assert document["v"] == 1
    assert document["made_at"] == stamp(confirmed.at)
    assert document["person"] == {
        "id": str(TECHNICIAN.id),
        "name": TECHNICIAN.name,
        "role": "technician",
    }
    cards = {card["id"]: card for card in document["cards"]}
    assert [c for cell in document["cells"] for c in cell["cards"]] == list(cards)
    for card in cards.values():
        procedure = document["procedures"][card["procedure"]]
        assert card["unit"] in (*procedure["units"], "")
        assert set(card["preconditions"]) <= set(document["preconditions"])
        for point in card["points"]:
            assert document["rules"][point["rule_id"]]["procedure"] == card["procedure"]
    tags = [i["tag"] for i in document["instruments"]]
    assert tags == [
        "CR-1",
        "HV-1",
        "IR-1",
        "IR-DUE",
        "IR-NEW",
        "RT-1",
    ]  # not the rival's
    shown = document["instruments"][2]
    assert (shown["calibrated_on"], shown["due_on"]) == ("2025-06-01", "2026-06-01")
    (range_,) = shown["ranges"]
    stated = (range_["does"], range_["pct_reading"], range_["fixed"], range_["unit"])
    assert stated == ("reads", 5.0, 0.02, "GOhm")
    assert document["instruments"][1]["ranges"] == []


def test_the_sheet_counts_by_cell_and_card(confirmed: Work) -> None:
    confirmed.read("bus", IR, "9.0", "1.0")
    confirmed.withdraw("breaker 52", VI)
    confirmed.read("breaker 52", CR, "38.6", "39.4", "40.2")
    confirmed.confirm("breaker 52", CR, after=True)
    confirmed.sign(("breaker 52", CR))
    sheet = round_overview(
        confirmed.session, person_id=LEAD.id, round_id=confirmed.round_id
    )
    (cell,) = sheet.cells
    assert (len(cell.cards), len(cell.standing), cell.signed) == (7, 6, 1)
    assert cell.findings == [("outside", 1)]
    line = next(c for c in cell.cards if c.state == "signed")
    assert (line.points, line.read, line.signed_by) == (3, 3, TECHNICIAN.name)
    assert sheet.head.title == "Acceptance round 1"
    assert sheet.head.ratings.startswith("Rated 15 kV")


def test_the_list_of_rounds_says_how_far_each_is(confirmed: Work) -> None:
    confirmed.read("bus", IR, "9.0", "1.0", "5.1", ">2")
    card = confirmed.card("bus", IR)
    confirmed.store(
        confirmed.entry(
            card, "deficiency", text="dust", holder="x", severity="may_follow"
        )
    )
    (one,) = list_rounds(confirmed.session, person_id=LEAD.id).rows
    assert (one.cards, one.cards_signed, one.mine_open) == (7, 0, 7)
    assert (one.within, one.outside, one.marginal, one.unjudged) == (1, 1, 1, 1)
    assert (one.readings, one.open_deficiencies) == (4, 1)


def test_open_rounds_come_first_then_the_newest(accepted: Work) -> None:
    work = Work.begin(accepted.session, kind="maintenance", at=accepted.tick(days=9))
    titles = [r.title for r in list_rounds(work.session, person_id=LEAD.id).rows]
    assert titles == ["Maintenance round 1", "Acceptance round 1"]


def test_a_card_as_a_record_shows_everything_and_what_may_be_done(
    confirmed: Work,
) -> None:
    first, other = confirmed.read("breaker 52", CR, "61.7", "39.4")
    again = confirmed.again("breaker 52", CR, first, "61.0")
    (own,) = confirmed.read("breaker 52", CR, "62.0", by=LEAD)
    card_id = confirmed.card("breaker 52", CR).id

    def record(person_id: UUID) -> dict[str, bool]:
        found = card_record(confirmed.session, person_id=person_id, card_id=card_id)
        return {
            reading["text"]: reading["may_dispose"]
            for point in found.points
            for reading in point["readings"]
        }

    nothing = dict.fromkeys(("61.0", "61.7", "39.4", "62.0"), False)
    assert record(TECHNICIAN.id) == nothing
    # Not within, holding, and not taken by the lead.
    assert record(LEAD.id) == nothing | {"61.0": True}
    found = card_record(confirmed.session, person_id=LEAD.id, card_id=card_id)
    assert [r["text"] for r in found.points[0]["readings"]] == ["61.0", "61.7"]
    assert (found.position, found.cards) == (5, 7)
    assert (found.may_return, found.may_withdraw) == (False, True)
    assert found.preconditions == []  # of the list before safety had scopes
    assert found.reading(again)[1]["text"] == "61.0"
    with pytest.raises(NotFoundError):
        found.reading(uuid4())
    assert other != own


def test_cards_follow_each_other(opened: Work) -> None:
    ids = [card.id for card in opened.cards.values()]
    for at, card_id in enumerate(ids):
        found = card_record(opened.session, person_id=LEAD.id, card_id=card_id)
        assert found.previous == (ids[at - 1] if at else None)
        assert found.following == (ids[at + 1] if at + 1 < len(ids) else None)


def test_a_deficiency_is_shown_with_the_readings_that_may_close_it(
    confirmed: Work,
) -> None:
    a, _, c = confirmed.read("breaker 52", CR, "38.6", "39.4", "61.7")
    entry = confirmed.entry(
        confirmed.card("breaker 52", CR),
        "deficiency",
        text="cluster loose",
        holder="installer",
        severity="stops_turnover",
        reading_id=str(c),
    )
    confirmed.store(entry, by=SECOND)

    def retests() -> list[str]:
        _, shown = card_of_deficiency(
            confirmed.session, person_id=LEAD.id, deficiency_id=UUID(entry["key"])
        )
        assert shown["may_close"] and shown["raised_by"] == SECOND.name
        return [one["text"] for one in shown["retests"]]

    assert retests() == []
    confirmed.again("breaker 52", CR, c, "39.9")
    assert retests() == ["39.9"]
    assert (
        card_of_reading(confirmed.session, person_id=LEAD.id, reading_id=a).card[
            "deficiencies"
        ][0]["number"]
        == "D-001"
    )


def test_a_round_turned_over_offers_nothing_more(accepted: Work) -> None:
    for label, procedure in (("bus", IR), ("relay 51", RT)):
        found = card_record(
            accepted.session,
            person_id=LEAD.id,
            card_id=accepted.card(label, procedure).id,
        )
        assert not (found.may_return or found.may_withdraw)


PLATES = {
    "a number with its unit": (
        {"rated_kv": 15.0},
        [("Rated maximum voltage", "15 kV")],
    ),
    "no number": ({"rated_kv": None, "serial": ""}, []),
    "a word": ({"curve": "ieee_very_inverse"}, [("Curve", "IEEE very inverse")]),
    "a list": (
        {"multiples": [2.0, 2.5]},
        [("Test multiples of pickup", "2, 2.5")],
    ),
    "a field of their own": ({"door_lock": "K1"}, [("door lock", "K1")]),
    "nothing is no blank": (
        {"tolerance_s": 0.0},
        [("Declared tolerance, fixed part", "0 s")],
    ),
}


@pytest.mark.parametrize(("plate", "lines"), PLATES.values(), ids=PLATES)
def test_nameplate_lines(plate: dict, lines: list) -> None:
    assert nameplate_lines(plate) == lines
