"""Which print of a table may stand in another's place, and why others may not."""

from collections.abc import Mapping

import pytest

from models.criteria import load
from models.criteria.loader import table_files
from models.criteria.prints import IN_RULES, choices, prints_of, with_prints
from models.errors import CriteriaError, NotFoundError
from models.judging import Criteria, Table
from models.procedures import PROCEDURES, Subject, compile_rule
from models.procedures.procedure import GEARS

REFUSED = {
    "insulation_minimum_rule": "It does not state: voltage class",
    "insulation_correction_40": "Its values belong to 40 °C, not to 20 °C.",
    "cable_dc_guide": "It does not state: after installation",
    "bolt_torque_other": "It does not state: silicon bronze, stainless",
    "field_enclosed_two_columns": "It does not state: rated maximum voltage",
    "field_metal_clad_older": "It does not state: ac",
    "relay_curves_us": "It does not state",
    "relay_tolerance_bands": "It does not state",
    "relay_tolerance_points": "It does not state",
    "sf6_purity_iec": "It does not state: at most",
    "polarization_bands_other": "It has no row for bad",
    "control_voltage_iec": "It does not state: nominal",
    "contact_test_current_iec": "It is what another standard asks (IEC 62271-1)",
    "withstand_field_fraction_iec": "It is what another standard asks (IEC 62271-200)",
}
MAY_STAND = {
    "insulation_minimum_older",
    "field_enclosed_older",
    "metals_other_prints",
    "sf6_leakage_older",
}


def test_every_other_print_may_stand_or_says_why_not() -> None:
    others = {p.key: p.refused for found in choices().values() for p in found[1:]}
    assert others.keys() == MAY_STAND | REFUSED.keys()
    for key, refused in others.items():
        assert refused.startswith(REFUSED[key]) if key in REFUSED else refused == ""


def test_the_default_print_comes_first_and_may_stand() -> None:
    for key, found in choices().items():
        assert found[0].key == key
        assert found[0].default
        assert found[0].refused == ""


@pytest.mark.parametrize("key", ["insulation_minimum_older", "no_such_table"])
def test_only_a_default_print_has_others(key: str) -> None:
    with pytest.raises(NotFoundError):
        prints_of(key)


SUBJECT = {
    "rated_kv": 15.0,
    "curve": "ieee_very_inverse",
    "pickup_a": 480.0,
    "time_dial": 2.0,
}


class Asked(dict[str, Table]):
    """Tables that remember which of them were asked for."""

    def __init__(self, tables: Mapping[str, Table]) -> None:
        super().__init__(tables)
        self.keys_asked: set[str] = set()

    def __getitem__(self, key: str) -> Table:
        self.keys_asked.add(key)
        return super().__getitem__(key)


def test_all_tables_of_rules_that_have_other_prints_are_offered() -> None:
    asked = Asked(load().tables)
    for gear in GEARS:
        for withstand in (None, 36.0):
            subject = Subject(gear=gear, rated_withstand_kv=withstand, **SUBJECT)
            for procedure in PROCEDURES:
                compile_rule(procedure, subject, Criteria(asked))
    # Notes name another print, which is no default: it was offered beside that.
    defaults = {key for key in asked.keys_asked if table_files()[key].default}
    several = {key for key in defaults if len(prints_of(key)) > 1}
    assert several == set(IN_RULES)


@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("procedure", PROCEDURES)
def test_a_print_that_may_stand_compiles_and_is_cited(
    gear: str, procedure: str
) -> None:
    for key in IN_RULES:
        for other in prints_of(key)[1:]:
            if other.refused:
                continue
            criteria = with_prints(load(), {key: other.key})
            rule = compile_rule(procedure, Subject(gear=gear, **SUBJECT), criteria)
            default = compile_rule(procedure, Subject(gear=gear, **SUBJECT), load())
            was, now = load().table(key), load().table(other.key)
            named = {(c["document"], c["edition"], c["table"]) for c in default.cite}
            if (was.document, was.edition, was.table) in named:
                cited = {(c["document"], c["edition"], c["table"]) for c in rule.cite}
                assert (now.document, now.edition, now.table) in cited


def test_the_older_print_gives_its_own_minimum() -> None:
    older = with_prints(load(), {"insulation_minimum": "insulation_minimum_older"})
    subject = Subject(rated_kv=8.25)
    (new,) = compile_rule("insulation_resistance", subject, load()).bounds
    (old,) = compile_rule("insulation_resistance", subject, older).bounds
    assert (new["value"], old["value"]) == (
        load()
        .table("insulation_minimum")
        .find(lambda r: r["class_kv"] == 8.0)["minimum"],
        load()
        .table("insulation_minimum_older")
        .find(lambda r: r["class_kv"] == 8.0)["minimum"],
    )
    assert new["value"] != old["value"]


@pytest.mark.parametrize("other", ["insulation_correction_40", "metals"])
def test_what_may_not_stand_is_refused(other: str) -> None:
    with pytest.raises(CriteriaError, match=f"'{other}' cannot stand for"):
        with_prints(load(), {"insulation_correction_20": other})
