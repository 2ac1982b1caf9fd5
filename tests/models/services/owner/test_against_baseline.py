"""Maintenance readings judged against what was accepted, through the services.

The accepted poles read 38.6, 39.4 and 40.2 uOhm at 20 degC with 0.5 % + 0.2 uOhm; at
most 1.2 times that is 46.32, 47.28 and 48.24 uOhm. By hand: 45.0 / 38.6 = 1.1658,
50.0 / 39.4 = 1.2690; U of 45.0 is 2 (0.225 + 0.2) / sqrt(3) = 0.4907, of 38.6 0.4538,
Ur = 1.1658 sqrt((0.4907 / 45)^2 + (0.4538 / 38.6)^2) = 0.01869, times 38.6
0.7216 uOhm.
"""

from datetime import datetime

import pytest
from sqlalchemy.orm import Session

from models.services.criteria.suggestions import suggested_wording
from models.services.field.round_document import round_document
from tests.giving import give
from tests.optional_round import begin_with_optional_cards
from tests.scenario import BEGAN, CR, TECHNICIAN, Work

POLES = ("pole A", "pole B", "pole C")
ACCEPTED = {"pole A": 38.6, "pole B": 39.4, "pole C": 40.2}
READ = ("45.0", "50.0", "48.3")
FOUND = ("within", "outside", "marginal")


def adopt(session: Session, quantity: str, at: datetime = BEGAN) -> None:
    """Give what is suggested, as a lead does who adopts it."""
    said = suggested_wording(quantity)
    assert said is not None
    give(
        session,
        quantity=quantity,
        at=at,
        text=said.text,
        unit=said.unit,
        document=said.document,
        clause=said.clause,
        reason="The owner compares with the acceptance.",
    )


def of_baseline(work: Work) -> dict[str, float]:
    """Return with what each point's rule on the tablet compares."""
    document = round_document(
        work.session, person_id=TECHNICIAN.id, round_id=work.round_id, now=work.at
    )
    key = str(work.card("breaker 52", CR).id)
    (card,) = (card for card in document["cards"] if card["id"] == key)
    rules = document["rules"]
    return {
        point["label"]: bound["value"]
        for point in card["points"]
        for bound in rules[point["rule_id"]]["bounds"]
        if bound["kind"] == "of_baseline"
    }


def test_within_and_outside_of_what_was_accepted(accepted: Work) -> None:
    adopt(accepted.session, "contact_rise", accepted.tick())
    at = accepted.tick(days=70)
    work = Work.begin(accepted.session, kind="maintenance", at=at)
    assert of_baseline(work) == pytest.approx(ACCEPTED)
    work.read("breaker 52", CR, *READ)
    assert work.verdicts("breaker 52", CR) == dict(zip(POLES, FOUND, strict=True))
    facts = work.facts("breaker 52", CR)
    said = {r.point.label: facts.say(r.judgement)["working"] for r in facts.current}
    assert any("45.00 µΩ + U 0.7216 µΩ" in line for line in said["pole A"])
    assert any("i.e. 47.28 µΩ" in line for line in said["pole B"])
    assert any("Suggestion of this program" in line for line in said["pole A"])


def test_without_a_baseline_the_table_alone_decides(place: Session) -> None:
    adopt(place, "contact_rise")
    work = Work.begin(place, kind="maintenance")
    assert of_baseline(work) == {}
    work.read("breaker 52", CR, *READ)
    assert set(work.verdicts("breaker 52", CR).values()) == {"within"}


def test_a_coil_has_only_its_baseline_to_be_compared_with(place: Session) -> None:
    """Its rule says why it is unjudged until there is one."""
    adopt(place, "coil_times_change")
    work = begin_with_optional_cards(place, BEGAN)
    card = work.card("breaker 52", "coil_times")
    (rule,) = {point.rule["procedure"]: point.rule for point in card.points}.values()
    assert rule["bounds"] == []
    assert "compared with its own accepted record" in rule["unjudged"][0]["reason"]
