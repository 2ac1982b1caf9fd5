"""Labels of a lineup on paper, and what a label's code opens for whom."""

from collections.abc import Callable
from pathlib import Path
from uuid import uuid4

import pytest

from tests.scenario import ADMINISTRATOR, OWNER, SECOND, SITE, fixed_id, lineup_id
from tests.webapp.desk import Desk
from tests.webapp.pdf.outside import page_texts

SHEETS = f"/gear/lineups/{lineup_id()}/labels.pdf"
RELAY = fixed_id(f"{SITE} relay 51")
BREAKER = fixed_id(f"{SITE} breaker 52")


@pytest.mark.needs("poppler")
def test_each_cell_and_apparatus_has_a_label(
    desk_at: Callable[[str], Desk], tmp_path: Path
) -> None:
    sent = desk_at("opened").person(SECOND).client.get(SHEETS)
    assert sent.mimetype == "application/pdf"
    (page,) = page_texts(sent.data, tmp_path)
    assert page.count("MV-1") == 4  # cell 1, its bus, its breaker, its relay
    for words in ("breaker 52", "relay 51", "bus", "Cell 1"):
        assert words in page


def test_a_label_opens_what_is_there_to_be_done(
    desk_at: Callable[[str], Desk],
) -> None:
    desk = desk_at("opened")
    technician, owner = desk.person(SECOND).client, desk.person(OWNER).client
    card = technician.get(f"/a/{RELAY}").location
    cell = technician.get(f"/a/{BREAKER}").location  # three cards of it are open
    assert "/field/rounds/" in card and "#/cards/" in card
    assert "/field/rounds/" in cell and "#/cells/" in cell
    own = cell.rpartition("/")[2]
    assert technician.get(f"/a/{own}").location == cell
    assert owner.get(f"/a/{BREAKER}").location == f"/gear/things/{BREAKER}"
    assert owner.get(f"/a/{own}").location == f"/owner/lineups/{lineup_id()}"


def test_a_label_of_nothing_or_of_another_site_opens_nothing(
    desk_at: Callable[[str], Desk],
) -> None:
    desk = desk_at("opened")
    assert desk.person(SECOND).client.get(f"/a/{uuid4()}").status_code == 404
    assert desk.person(ADMINISTRATOR).client.get(f"/a/{BREAKER}").status_code == 404
    signed_out = desk.passer_by().client.get(f"/a/{BREAKER}")
    assert "/account/sign-in" in signed_out.location
