"""Import of lineups through the pages, as a person does it."""

import io
from collections.abc import Callable

import pytest
from werkzeug.test import TestResponse

from models.record.lineup_draft import draft_json
from models.services.setup.import_lineup import read_lineup_table
from tests.scenario import LEAD, OWNER, SITE, fixed_id, lineup_id
from tests.webapp.desk import Desk, Page, Visitor

NEW = f"/setup/sites/{fixed_id(SITE)}/lineups/import"
OLD = f"/setup/lineups/{lineup_id()}"
TABLE = """\
Lineup,SG-9
Gear,metal_clad
Rated maximum voltage (kV),38
Rated power-frequency withstand (kV),80
Rated impulse withstand (kV),200
Bus section,bus A,2000
Cell,Cell name,Drawn as,Bus section,Apparatus,Label,Serial number,rated_a
1,Incomer,breaker,bus A,breaker,52-1,V-91,2000
2,Feeder,breaker,bus A,breaker,52-2,V-92,1200
"""


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """A place with one lineup."""
    return desk_at("place")


def give(visitor: Visitor, path: str, text: str | bytes) -> TestResponse:
    """Choose a file on the page *path* and ask what would come."""
    data = text if isinstance(text, bytes) else text.encode()
    token = visitor.get(path).fields["csrf_token"]
    sent = {"csrf_token": token, "table": (io.BytesIO(data), "table.csv")}
    return visitor.client.post(path, data=sent)


def save(visitor: Visitor, page: Page, path: str, **more: str) -> TestResponse:
    names = ("csrf_token", "draft", "version")
    carried = {name: page.fields[name] for name in names}
    return visitor.client.post(f"{path}/save", data=carried | more)


def test_a_lineup_is_seen_before_it_is_saved(desk: Desk) -> None:
    lead = desk.person(LEAD)
    page = Page(give(lead, NEW, TABLE))
    assert page.status == 200
    assert page.headline == "SG-9: what would come"
    assert "drawing-elevation" in page.html
    assert "ANSI C37.06" in page.text  # 38 kV with 200 kV impulse
    site = f"/setup/sites/{fixed_id(SITE)}"
    assert "SG-9" not in lead.get(site).text
    assert "SG-9" in lead.follow(save(lead, page, NEW)).text
    carried = {name: page.fields[name] for name in ("csrf_token", "draft")}
    editor = Page(lead.client.post(f"{NEW}/editor", data=carried))
    assert (editor.status, "V-91" in editor.html) == (200, True)
    again = Page(save(lead, page, NEW))
    assert (again.status, "has a lineup SG-9 already" in again.text) == (422, True)


def test_every_fault_stands_with_its_place_and_nothing_is_stored(desk: Desk) -> None:
    lead = desk.person(LEAD)
    spoilt = TABLE.replace("2000\n2,", "two\n2,").replace("V-92", "V-91")
    page = Page(give(lead, NEW, spoilt))
    assert page.status == 422
    assert "2 things are to be mended" in page.text
    assert "row 8, column H" in page.text
    assert "row 9, column G" in page.text
    for data, words in ((b"", "is empty"), (b"\xd0\xcf\x11\xe0", "old workbook")):
        page = Page(give(lead, NEW, data))
        assert (page.status, words in page.text) == (422, True), page.text
    spoilt_page = save(lead, Page(give(lead, NEW, TABLE)), NEW, draft="bm90IG9uZQ==")
    assert spoilt_page.status_code == 422


def test_templates_and_a_lineup_are_handed_out(desk: Desk) -> None:
    lead = desk.person(LEAD)
    asked = lead.get(NEW)
    handed = [link for link in asked.links if "template" in link]
    assert len(handed) == 6
    for link in handed:
        answer = lead.client.get(link)
        assert answer.status_code == 200
        assert "attachment" in answer.headers["Content-Disposition"]
    read = [
        draft_json(read_lineup_table(lead.client.get(f"{OLD}/table.{form}").data))
        for form in ("xlsx", "csv")
    ]
    assert read[0] == read[1]
    assert lead.client.get(f"{NEW[:-6]}template.csv?gear=none").status_code == 404


def test_a_change_is_told_thing_by_thing_and_saved_with_its_version(desk: Desk) -> None:
    lead = desk.person(LEAD)
    text = lead.client.get(f"{OLD}/table.csv").get_data(as_text=True)
    name = read_lineup_table(text.encode()).cells[0].name
    page = Page(give(lead, f"{OLD}/import", text))
    assert "Nothing would change." in page.text
    page = Page(give(lead, f"{OLD}/import", text.replace(name, "Renamed")))
    assert "One difference" in page.text
    assert page.fields["version"].isdecimal()
    lead.follow(save(lead, page, f"{OLD}/import", reason="as on the door"))
    late = save(lead, page, f"{OLD}/import", reason="too late")
    assert late.status_code == 409


def test_an_owner_s_person_takes_the_table_and_changes_nothing(desk: Desk) -> None:
    owner = desk.person(OWNER)
    assert owner.client.get(NEW).status_code in (403, 404)
    assert owner.client.get(f"{OLD}/import").status_code == 403
    book = owner.get(f"/owner/lineups/{lineup_id()}")
    assert f"{OLD}/table.xlsx" in book.links
    assert owner.client.get(f"{OLD}/table.xlsx").status_code == 200
