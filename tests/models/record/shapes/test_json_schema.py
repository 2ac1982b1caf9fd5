"""What is really sent and frozen fits the schemas that stand in docs/schemas/."""

import copy
import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from models.record.shapes.json_schema import SHAPES, json_schema, schema_text
from models.services.field.round_document import round_document
from models.services.keeping.log import texted
from models.services.turnover.package import draft_document
from tests.architecture.sources import ROOT
from tests.models.services.safety.acting import Acting, one_of_each
from tests.scenario import CR, IR, LEAD, SECOND, TECHNICIAN, VI, Work
from tests.webapp.pdf.sample_document import sample_document


def faults(name: str, value: Any) -> list[str]:
    """Return where *value* does not fit, and why."""
    found = Draft202012Validator(json_schema(name)).iter_errors(value)
    return [f"{one.json_path}: {one.message[:200]}" for one in found]


@pytest.mark.parametrize("name", SHAPES)
def test_the_file_is_what_the_types_say(name: str) -> None:
    """`python -m models.record.shapes.json_schema docs/schemas` writes it anew."""
    path = ROOT / "docs" / "schemas" / f"{name}.json"
    assert path.read_text("utf-8") == schema_text(name)


@pytest.mark.parametrize("name", SHAPES)
def test_it_is_a_schema(name: str) -> None:
    Draft202012Validator.check_schema(json_schema(name))


def busy(work: Work) -> None:
    """Bring something of every kind onto the round."""
    outside, marginal, again = work.read("bus", IR, "1.0", "5.1", "1.1")
    work.dispose(outside)
    work.dispose(marginal)
    work.again("bus", IR, again, "9.0")
    card = work.card("bus", IR)
    raised = work.entry(
        card,
        "deficiency",
        text="dust",
        holder="installer",
        severity="may_follow",
        reading_id=str(outside),
    )
    work.store(raised, work.entry(card, "note", text="hot"))
    work.fill("breaker 52", CR, by=SECOND)
    work.give_back("breaker 52", CR)
    work.withdraw("breaker 52", VI)


def test_the_round_document_that_a_tablet_gets(opened: Work) -> None:
    busy(opened)
    acting = Acting(opened)
    acting.keep(*one_of_each(acting))
    document = round_document(
        opened.session, person_id=TECHNICIAN.id, round_id=opened.round_id, now=opened.at
    )
    assert document["safety"]["acts"]
    assert faults("round_document", document) == []


def test_a_maintenance_round_with_its_baseline(compared: Work) -> None:
    document = round_document(
        compared.session,
        person_id=TECHNICIAN.id,
        round_id=compared.round_id,
        now=compared.at,
    )
    points = [point for card in document["cards"] for point in card["points"]]
    assert any(point["baseline"] for point in points)
    assert faults("round_document", document) == []


def test_the_package_document_that_is_signed(opened: Work) -> None:
    busy(opened)
    document = draft_document(
        opened.session, person_id=LEAD.id, round_id=opened.round_id, now=opened.at
    )
    assert faults("package_document", document) == []


def test_the_sample_that_the_pages_are_tried_with() -> None:
    assert faults("package_document", texted(sample_document())) == []


def test_the_entries_that_are_stored(opened: Work) -> None:
    card = opened.card("bus", IR)
    entries = [
        opened.entry(card, "confirm", code="G01", state="confirmed"),
        opened.reading(card, card.points[0], "9.0"),
        opened.entry(card, "note", text="hot"),
        opened.entry(
            card, "deficiency", text="dust", holder="owner", severity="may_follow"
        ),
        opened.entry(card, "close_deficiency", deficiency_id="x", text="swept"),
        *one_of_each(Acting(opened)),
    ]
    assert faults("entries", {"device": "tablet", "entries": entries}) == []


WRONG = {
    "a word that there is not": lambda d: d["conformity"].update(word="conforming"),
    "a field too many": lambda d: d.update(more=1),
    "a field too few": lambda d: d.pop("owner"),
    "a number for a text": lambda d: d.update(zone=1),
}


@pytest.mark.parametrize("change", WRONG.values(), ids=WRONG)
def test_what_does_not_fit_is_found(change: Any) -> None:
    document = copy.deepcopy(json.loads(json.dumps(texted(sample_document()))))
    change(document)
    assert faults("package_document", document)
