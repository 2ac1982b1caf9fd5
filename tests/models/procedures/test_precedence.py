"""Project, maker, nameplate, table: every combination, for every figure."""

from itertools import chain, combinations, product
from typing import Any

import pytest

from models.errors import InputError
from models.judging import Criteria, Rule
from models.procedures import GIVABLE, Subject, compile_rule
from models.procedures.given import Given, given_value, said_figure

# quantity -> what Subject holds of the nameplate, the nameplate's figure, the table's.
PLATE: dict[str, tuple[dict[str, Any], float | None, float | None]] = {
    "insulation_minimum": ({"limit": 3000.0}, 3000.0, 5000.0),
    "contact_limit": ({"limit": 60.0}, 60.0, None),
    "contact_spread": ({}, None, 1.5),
    "withstand_ac": ({"level_ac_kv": 26.0}, 26.0, 27.0),
    "withstand_dc": ({"level_dc_kv": 30.0}, 30.0, 37.5),
    "vacuum_ac": ({"vacuum_ac_kv": 26.0}, 26.0, 27.0),
    "vacuum_dc": ({"vacuum_dc_kv": 30.0}, 30.0, None),
    "vacuum_pressure": ({"vacuum_limit_pa": 0.002}, 0.002, 0.01),
    "relay_tolerance_pct": ({"tolerance_pct": 3.0}, 3.0, 5.0),
    "relay_tolerance_s": ({"tolerance_s": 0.02}, 0.02, 0.035),
}
PROJECT, MAKER = 7.0, 9.0
SETTINGS = {"curve": "ieee_very_inverse", "pickup_a": 480.0, "time_dial": 2.0}
PARTS = ("project", "maker", "nameplate")
COMBINATIONS = list(chain.from_iterable(combinations(PARTS, n) for n in range(4)))


def given(quantity: str, standing: str, value: float, **more: Any) -> Given:
    known = {"scope": "lineup", "document": f"the {standing}'s paper", **more}
    return Given(quantity=quantity, standing=standing, value=value, **known)


def compiled(quantity: str, subject: dict[str, Any], criteria: Criteria) -> Rule:
    whole = Subject(gear="metal_clad", rated_kv=15.0, **SETTINGS, **subject)
    return compile_rule(GIVABLE[quantity].procedure, whole, criteria)


def decided(quantity: str, rule: Rule) -> tuple[float | None, dict[str, Any]]:
    """Return the figure that the rule carries for *quantity*, and its citation."""
    wanted = {
        "insulation_minimum": ("low", "value"),
        "contact_limit": ("high", "value"),
        "contact_spread": ("high_of_lowest", "times"),
        "vacuum_pressure": ("high", "value"),
        "relay_tolerance_pct": ("operating_time", "tolerance_pct"),
        "relay_tolerance_s": ("operating_time", "tolerance_s"),
    }
    kind, field = wanted.get(quantity, ("withstand", "level_kv"))
    for bound in rule.bounds:
        if bound["kind"] != kind:
            continue
        if kind == "withstand" and quantity[-2:] not in bound["when"].values():
            continue
        cite = bound["tolerance_cite" if kind == "operating_time" else "cite"]
        return bound[field], dict(rule.cite[cite])
    return None, {}


@pytest.mark.parametrize(
    ("quantity", "there"),
    list(product(PLATE, COMBINATIONS)),
    ids=lambda one: one if isinstance(one, str) else "+".join(one) or "table alone",
)
def test_the_first_that_there_is_decides(
    criteria: Criteria, quantity: str, there: tuple[str, ...]
) -> None:
    fields, plate, table = PLATE[quantity]
    subject: dict[str, Any] = dict(fields) if "nameplate" in there else {}
    figures = {"maker": MAKER, "project": PROJECT}
    subject["given"] = [
        given(quantity, standing, value)
        for standing, value in figures.items()
        if standing in there
    ]
    standing = {
        "project": PROJECT if "project" in there else None,
        "maker": MAKER if "maker" in there else None,
        "nameplate": plate if "nameplate" in there else None,
        "table": table,
    }
    known = [(who, value) for who, value in standing.items() if value is not None]
    value, cite = decided(quantity, compiled(quantity, subject, criteria))
    if not known:
        assert value is None
        return
    assert value == known[0][1]
    who = known[0][0]
    provenance = {"nameplate": "maker"}.get(who, who)
    if who == "table":
        assert cite["provenance"] not in ("maker", "project")
        assert "goes before" not in cite["note"]
        return
    assert cite["provenance"] == provenance
    for _, other in known[1:]:
        assert (
            said_figure(GIVABLE[quantity], other)
            in cite["note"].split("goes before")[1]
        )


def test_the_citation_says_where_it_is_written(criteria: Criteria) -> None:
    one = given(
        "contact_limit",
        "project",
        35.0,
        edition="revision C",
        clause="clause 6.2",
        criterion="k",
        version=3,
    )
    subject = {"limit": 60.0, "given": [one, given("contact_limit", "maker", 40.0)]}
    rule = compiled("contact_limit", subject, criteria)
    at = rule.bounds[-1]["cite"]
    assert rule.cite_lines[at] == (
        "Source: the project's paper (revision C), clause 6.2, entered as version 3, "
        "goes before the maker's 40 µΩ (the maker's paper) and the maker's 60 µΩ on "
        "the nameplate; project specification."
    )
    assert (rule.cite[at]["criterion"], rule.cite[at]["version"]) == ("k", 3)


NARROWER = {
    "the apparatus before its kind": (("kind", 1.0), ("apparatus", 2.0), 2.0),
    "the apparatus before the lineup": (("lineup", 1.0), ("apparatus", 2.0), 2.0),
    "the kind before the lineup": (("lineup", 1.0), ("kind", 2.0), 2.0),
}


@pytest.mark.parametrize(("one", "other", "wanted"), NARROWER.values(), ids=NARROWER)
def test_of_one_standing_the_narrower_goes_first(
    criteria: Criteria, one: tuple[str, float], other: tuple[str, float], wanted: float
) -> None:
    found = [
        given("contact_limit", "maker", value, scope=scope) for scope, value in
        (one, other)
    ]  # fmt: skip
    rule = compiled("contact_limit", {"given": found}, criteria)
    assert decided("contact_limit", rule)[0] == wanted


def test_a_project_s_for_the_lineup_goes_before_a_maker_s_for_one_apparatus(
    criteria: Criteria,
) -> None:
    found = [
        given("contact_limit", "maker", 40.0, scope="apparatus"),
        given("contact_limit", "project", 35.0, scope="lineup"),
    ]
    rule = compiled("contact_limit", {"given": found}, criteria)
    assert decided("contact_limit", rule)[0] == 35.0


def test_what_is_given_for_another_figure_changes_nothing(criteria: Criteria) -> None:
    for quantity in GIVABLE:
        others = [
            given(name, "project", 7.0)
            for name in GIVABLE
            if GIVABLE[name].procedure != GIVABLE[quantity].procedure
        ]
        assert compiled(quantity, {"given": others}, criteria) == compiled(
            quantity, {}, criteria
        )


def test_each_part_of_a_tolerance_keeps_its_source(criteria: Criteria) -> None:
    found = {
        "tolerance_pct": 5.0,
        "given": [given("relay_tolerance_s", "project", 0.02)],
    }
    rule = compiled("relay_tolerance_s", found, criteria)
    assert rule.bounds[0]["tolerance_pct"] == 5.0
    assert rule.cite_lines[1] == (
        "Source: the project's paper, entered as version 1, goes before the usual "
        "0.035 s, beside the maker's 5 % on the nameplate; project specification."
    )


VALUES = {
    "in the first unit": ("contact_limit", "35", "uOhm", 35.0),
    "in another unit": ("insulation_minimum", "8", "GOhm", 8000.0),
    "a pressure in mbar": ("vacuum_pressure", "1e-4", "mbar", 0.01),
    "a level": ("withstand_ac", "28", "kV", 28.0),
    "a part of a tolerance may be nothing": ("relay_tolerance_s", "0", "s", 0.0),
}


@pytest.mark.parametrize(
    ("quantity", "text", "unit", "wanted"), VALUES.values(), ids=VALUES
)
def test_a_value_as_typed(quantity: str, text: str, unit: str, wanted: float) -> None:
    assert given_value(GIVABLE[quantity], text, unit) == pytest.approx(
        wanted, rel=1e-12
    )


REFUSED = {
    "nothing": ("contact_limit", "", "uOhm", "value"),
    "zero": ("contact_limit", "0", "uOhm", "value"),
    "below zero": ("withstand_ac", "-3", "kV", "value"),
    "a tolerance below zero": ("relay_tolerance_pct", "-1", "%", "value"),
    "less than once the lowest": ("contact_spread", "0.9", "times", "value"),
    "a bound": ("contact_limit", "<35", "uOhm", "value"),
    "a comma": ("contact_limit", "3,5", "uOhm", "value"),
    "an outcome": ("contact_limit", "held", "uOhm", "value"),
    "a unit of something else": ("contact_limit", "35", "kV", "unit"),
    "no unit": ("contact_limit", "35", "", "unit"),
}


@pytest.mark.parametrize(
    ("quantity", "text", "unit", "place"), REFUSED.values(), ids=REFUSED
)
def test_what_cannot_be_a_criterion_is_refused_with_its_place(
    quantity: str, text: str, unit: str, place: str
) -> None:
    with pytest.raises(InputError) as refused:
        given_value(GIVABLE[quantity], text, unit)
    assert [fault.field for fault in refused.value.faults] == [place]
