"""Blank field sheets: everything to write on, and that they are no record."""

import io

import pikepdf

from models.procedures import PROCEDURES
from models.schema import Round
from models.services.field.field_sheet import round_sheets
from tests.scenario import IR, LEAD, OWNER, TECHNICIAN, Work
from tests.webapp.desk import Desk
from webapp.pdf import render_field_sheets


def test_a_round_s_sheets_hold_what_each_card_asks_for(confirmed: Work) -> None:
    document = round_sheets(
        confirmed.session,
        person_id=TECHNICIAN.id,
        round_id=confirmed.round_id,
        now=confirmed.at,
    )
    assert len(document["cards"]) == len(confirmed.cards)
    for shown, card in zip(document["cards"], confirmed.cards.values(), strict=True):
        assert [label for label, _ in shown["points"]] == [p.label for p in card.points]
        asks = PROCEDURES[card.procedure].asks
        assert [label for label, *_ in shown["conditions"]] == [
            ask["label"] for ask in asks
        ]
        assert shown["limits"], card.procedure
        assert all(one.startswith("Source: ") for one in shown["sources"])
    insulation = next(one for one in document["cards"] if "insulation" in one["where"])
    # ANSI/NETA Table 100.14.1, solid insulation: 0.40 at 0, 1.00 at 20, 2.50 at 40.
    assert {("0", "0.4"), ("20", "1"), ("40", "2.5")} <= set(insulation["factors"])
    made = render_field_sheets(document)
    assert made == render_field_sheets(document)
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert len(pdf.pages) >= len(confirmed.cards)


def test_who_sees_the_round_prints_its_sheets(desk: Desk) -> None:
    with desk.work() as work:
        round_id, card = work.round_id, work.card("bus", IR).id
    lead = desk.person(LEAD)
    assert (
        f"/turnover/cards/{card}/field-sheet.pdf"
        in lead.get(f"/turnover/cards/{card}").links
    )
    for path in (
        f"/turnover/rounds/{round_id}/field-sheets.pdf",
        f"/turnover/cards/{card}/field-sheet.pdf",
    ):
        sent = lead.client.get(path)
        assert sent.status_code == 200
        assert sent.data.startswith(b"%PDF")
        assert desk.person(OWNER).client.get(path).status_code == 404


def test_a_round_by_scopes_prints_the_lines_of_the_card_alone(opened: Work) -> None:
    session = opened.session
    session.get_one(Round, opened.round_id).earlier_list = False
    document = round_sheets(
        session, person_id=TECHNICIAN.id, round_id=opened.round_id, now=opened.at
    )
    for shown in document["cards"]:
        assert shown["before"] == shown["after"] == []
        assert shown["lists"], shown["where"]
        for one in shown["lists"]:
            assert 1 <= len(one["before"]) <= 8, shown["where"]
    insulation = next(one for one in document["cards"] if "insulation" in one["where"])
    asked = [line["code"] for line in insulation["lists"][0]["before"]]
    assert "T5" in asked
    assert "G01a" not in asked
    assert render_field_sheets(document).startswith(b"%PDF")


def test_the_safety_sheet_is_for_who_sees_the_round(desk: Desk) -> None:
    with desk.work() as work:
        round_id = work.round_id
        work.session.get_one(Round, round_id).earlier_list = False
        work.session.commit()
    lead = desk.person(LEAD)
    path = f"/turnover/rounds/{round_id}/safety-sheet.pdf"
    assert path in lead.get(f"/turnover/rounds/{round_id}/cards").links
    for address in (path, f"{path}?blank=1"):
        sent = lead.client.get(address)
        assert sent.status_code == 200
        assert sent.data.startswith(b"%PDF")
    assert desk.person(OWNER).client.get(path).status_code == 404
