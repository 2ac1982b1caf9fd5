"""What the editor's page asks the server while one enters, and how it is saved."""

import json
import re
from collections.abc import Callable
from html import unescape
from typing import Any

import pytest

from models.fields.units import convert
from models.procedures.plates import LINEUP, apparatus_kinds, plate_fields
from models.record.lineup_draft import draft_json
from models.services.setup.starting_points import Answers, lay_out
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


def ask(visitor: Visitor, path: str, body: object) -> tuple[int, dict[str, Any]]:
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
    assert len(found["draft"]["cells"]) == 7
    for body in (
        {"point": "metal_clad_tie"},
        {"point": "metal_clad_tie", "answers": 7},
    ):
        status, found = ask(lead, START, body)
        assert (status, len(found["faults"])) == (422, 2)
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


def laid_out(name: str = "SG-7") -> dict[str, Any]:
    """Return the draft of a lineup of three cells."""
    answers = Answers(name=name, row=ROW, rated_a="2000", repeated="0")
    return draft_json(lay_out("metal_clad_tie", answers))


def saved(visitor: Visitor, draft: dict[str, Any]) -> str:
    """Save a new lineup, and return the address of its page."""
    status, found = ask(visitor, NEW, {"draft": draft})
    assert status == 200, found
    return str(found["location"])


def test_a_lineup_is_saved_shown_and_changed(lead: Visitor) -> None:
    path = saved(lead, laid_out())
    page = lead.get(path)
    assert page.headline == "SG-7"
    assert "breaker 52-3" in page.text
    assert any(link.endswith("/plates") for link in page.links)
    assert path in lead.get(f"/setup/sites/{fixed_id(SITE)}").links
    (sent,) = re.findall('data-editor="([^"]*)"', lead.get(f"{path}/change").html)
    data = json.loads(unescape(sent))
    draft, version = data["draft"], data["version"]
    draft["cells"][0]["name"] = "Supply"
    body = {"draft": draft, "seen_version": version}
    assert ask(lead, f"{path}/change", body) == (200, {"location": path})
    assert "Supply" in lead.get(path).text
    status, theirs = ask(lead, f"{path}/change", body)
    assert status == 409
    assert theirs["theirs"]["cells"][0]["name"] == "Supply"
    assert theirs["version"] > version
    assert ask(lead, f"{path}/change", {"draft": draft})[0] == 422


BAD_DRAFTS: dict[str, tuple[dict[str, Any], str]] = {
    "no draft": ({}, "gear"),
    "two cells of one number": ({"number": "2"}, "cells.0.number"),
    "no name": ({"name": ""}, "cells.0.name"),
}


@pytest.mark.parametrize("case", BAD_DRAFTS, ids=BAD_DRAFTS)
def test_what_cannot_be_is_said_at_its_place_and_nothing_is_stored(
    lead: Visitor, case: str
) -> None:
    change, place = BAD_DRAFTS[case]
    draft = laid_out()
    draft["cells"][0] |= change
    body = {"draft": draft} if change else {}
    status, found = ask(lead, NEW, body)
    assert status == 422
    places = {fault["field"] for fault in found["faults"]}
    assert place in places or place.replace("0", "1") in places
    assert "SG-7" not in lead.get(f"/setup/sites/{fixed_id(SITE)}").text


def test_ratings_are_compared_while_one_enters(lead: Visitor) -> None:
    status, found = ask(lead, "/setup/lineups/remarks", {"draft": laid_out()})
    assert status == 200
    assert any(one["level"] == "as published" for one in found["remarks"])
    assert ask(lead, "/setup/lineups/remarks", {"draft": 7})[0] == 422
