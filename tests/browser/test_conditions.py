"""What the tablet offers and says of conditions, from the rule of a card's points.

The modules of the page, on a document of one card: no server, no round.
"""

import json
from collections.abc import Sequence
from typing import Any

import pytest
from playwright.sync_api import Page

from models.criteria import load
from models.procedures import Subject, compile_rule
from models.services.field.round_document import procedures_json

pytestmark = pytest.mark.browser

# [document, card, typed conditions, recorded ones]: what the fields hold, which of them
# say "if known", what the point wants now, and what it wanted as it was recorded.
ASK = """async (sent) => {
  const [doc, card, typed, recorded] = JSON.parse(sent);
  const shown = await import("/static/field/conditions.js");
  const { conditionsPanel, typedConditions } = shown;
  const { Points } = await import("/static/field/points.js");
  const draft = { conditions: typed, rows: {}, series: {} };
  const store = {
    doc, card: () => card, draft: () => draft, faultsAt: () => [],
    cards: new Map(), instruments: new Map(), clock: { now: () => 0 }, zone: "UTC",
  };
  const points = Object.assign(Object.create(Points.prototype), { store, card });
  const [point] = card.points;
  const panel = conditionsPanel(store, card, () => undefined);
  const labels = [...panel.querySelectorAll("label")].map((one) => one.textContent);
  return {
    typed: typedConditions(store, card),
    labels: labels.map((one) => one.replace(" (if known)", "")),
    instrument: panel.querySelector("#condition-instrument") !== null,
    if_known: labels.filter((one) => one.endsWith("(if known)")),
    now: points.wantedWords(point),
    recorded: points.wantedWords(point, { conditions: recorded }),
  };
}"""


def asked(
    page: Page,
    procedure: str,
    subject: Subject,
    typed: dict[str, Any],
    recorded: dict[str, Any] | None = None,
    givens: Sequence[dict[str, Any]] = ({},),
) -> dict[str, Any]:
    rule = compile_rule(procedure, subject, load()).to_json()
    point = {"id": "p", "label": "point", "rule_id": "r", "group": ""}
    points = [{**point, "given": given} for given in givens]
    card = {"id": "c", "procedure": procedure, "points": points}
    card |= {"readings": [], "defaults": {}, "apparatus": {}, "cell_id": "x"}
    document = {"procedures": procedures_json(), "rules": {"r": rule}}
    document |= {"instruments": [], "cards": [card], "cells": []}
    sent = json.dumps([document, card, typed, recorded or {}])
    found: dict[str, Any] = page.evaluate(ASK, sent)
    return found


WINDINGS = Subject(vt_primary_v=14400.0, vt_secondary_v=120.0, winding_kind="dry")


def test_the_test_voltage_is_that_of_the_winding(rule_reader: Page) -> None:
    """5000 V dc for a winding above 5 kV, 1000 V to 600 V: the table's, from memory."""
    high = asked(rule_reader, "winding_insulation", WINDINGS, {"winding": "high"})
    low = asked(rule_reader, "winding_insulation", WINDINGS, {"winding": "low"})
    none = asked(rule_reader, "winding_insulation", WINDINGS, {})
    assert (high["typed"]["test_kv"], low["typed"]["test_kv"]) == (5, 1)
    assert "test_kv" not in none["typed"]


def test_a_recorded_reading_shows_the_limit_that_it_was_recorded_with(
    rule_reader: Page,
) -> None:
    """Dry: 25 GOhm for a winding above 5 kV, 500 MOhm to 600 V, from memory."""
    found = asked(
        rule_reader,
        "winding_insulation",
        WINDINGS,
        {"winding": "low"},
        {"winding": "high"},
    )
    assert found["now"].startswith("at least 500 MΩ")
    assert found["recorded"].startswith("at least 25 GΩ")


def test_a_condition_is_only_wanted_if_known_where_nothing_hangs_on_it(
    rule_reader: Page,
) -> None:
    """A ratio by voltage needs the voltage, one by current the current."""
    ratio = Subject(ct_primary_a=1200.0, ct_secondary_a=5.0, ct_class="0.3")
    wanted = {"voltage": "Primary current", "current": "Voltage at the secondary"}
    for method, other in wanted.items():
        found = asked(rule_reader, "ct_ratio", ratio, {"ratio_method": method})
        assert found["if_known"] == [f"{other} (if known)"]


def test_what_is_compared_by_eye_asks_for_no_instrument(rule_reader: Page) -> None:
    eye = asked(rule_reader, "vt_fuses", Subject(), {})
    measured = asked(rule_reader, "winding_insulation", WINDINGS, {})
    assert (eye["instrument"], measured["instrument"]) == (False, True)


def test_a_card_asks_only_for_the_pickups_that_its_drop_outs_hang_on(
    rule_reader: Page,
) -> None:
    phase = [{"element": "51", "relay_edge": edge} for edge in ("pickup", "drop_out")]
    ground = [{**one, "element": "51n"} for one in phase]
    relay = Subject(pickup_a=320.0, ground_pickup_a=60.0, dropout_pct=95.0)
    wanted = {
        "both": ([*phase, *ground], ["time element", "ground time element"]),
        "phase alone": (phase, ["time element"]),
        "no drop-out": (phase[:1], []),
    }
    for givens, names in wanted.values():
        found = asked(rule_reader, "relay_pickup", relay, {}, givens=givens)
        labels = [f"Measured pickup of the {name}" for name in names]
        assert [one for one in found["labels"] if "pickup" in one] == labels
