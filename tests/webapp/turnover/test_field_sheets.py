"""Blank field sheets: everything to write on, and that they are no record."""

import io

import pikepdf

from models.procedures import PROCEDURES
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
        assert [label for label, _, _ in shown["conditions"]] == [
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
