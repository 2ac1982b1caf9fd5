"""What the editor's page asks the server while one enters."""

from collections.abc import Callable

import pytest

from models.fields.units import convert
from models.procedures.plates import LINEUP, apparatus_kinds, plate_fields
from tests.scenario import LEAD, SITE, TECHNICIAN, fixed_id
from tests.webapp.desk import Desk, Visitor
from webapp.setup.vocabulary import plate_parts, vocabulary

NEW = f"/setup/sites/{fixed_id(SITE)}/lineups/new"
START = "/setup/lineups/starting-point"
ROW = "rated_metal_clad:15:36:95"


@pytest.fixture
def lead(desk_at: Callable[[str], Desk]) -> Visitor:
    """The lead, at a place with one site."""
    return desk_at("place").person(LEAD)


def ask(visitor: Visitor, path: str, body: object) -> tuple[int, dict[str, object]]:
    """Post JSON as the page does."""
    token = visitor.get("/account/password").fields["csrf_token"]
    answer = visitor.client.post(path, json=body, headers={"X-CSRFToken": token})
    return answer.status_code, answer.get_json()


def test_the_page_brings_its_modules_and_its_addresses(lead: Visitor) -> None:
    page = lead.get(NEW)
    assert "static/setup/main.js" in page.html
    assert START in page.html
    module = lead.client.get("/setup/vocabulary.js")
    assert module.get_data(as_text=True).startswith("export default {")
    same = {"If-None-Match": module.headers["ETag"]}
    assert lead.client.get("/setup/vocabulary.js", headers=same).status_code == 304


def test_a_starting_point_is_laid_out_or_its_faults_are_said(lead: Visitor) -> None:
    answers = {"name": "SG-7", "row": ROW, "rated_a": "2000", "repeated": "4"}
    status, found = ask(lead, START, {"point": "metal_clad_tie", "answers": answers})
    assert status == 200
    assert len(found["draft"]["cells"]) == 7  # type: ignore[index]
    for body in (
        {"point": "metal_clad_tie"},
        {"point": "metal_clad_tie", "answers": 7},
    ):
        status, found = ask(lead, START, body)
        assert (status, len(found["faults"])) == (422, 2)  # type: ignore[arg-type]
    wrong = {"point": "metal_clad_tie", "answers": {"row": 7}}
    assert ask(lead, START, wrong)[0] == 422
    assert ask(lead, START, [1])[0] == 404


def test_a_technician_has_no_editor(desk_at: Callable[[str], Desk]) -> None:
    technician = desk_at("place").person(TECHNICIAN)
    assert technician.get(NEW).status == 403


def test_every_field_of_every_plate_is_offered_once() -> None:
    for kind in (LINEUP, *apparatus_kinds()):
        named = [name for part in plate_parts(kind) for name in part["fields"]]
        assert sorted(named) == sorted(one.name for one in plate_fields(kind)), kind
        assert set(named) <= set(vocabulary()["fields"]), kind


def test_the_page_converts_units_as_the_server_does() -> None:
    for name, field in vocabulary()["fields"].items():
        for unit in field["reads"]:
            if unit["cycles"]:
                continue
            value = (7 - unit["zero"]) * unit["times"] / unit["over"] + unit["zero_to"]
            own = field["reads"][0]["name"]
            assert value == pytest.approx(convert(7, unit["name"], own)), name
