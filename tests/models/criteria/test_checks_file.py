"""A file of checks is read as it was written, or refused with its place."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.criteria.checked import RowCheck, checked_criteria
from models.criteria.checks_file import SCHEMA, checks_text, read_checks, stale
from models.criteria.loader import load
from models.errors import InputError
from tests.models.criteria.test_checked import (
    FACTORS,
    MINIMUM,
    PRESSURE,
    check,
    every_row,
)

CHECKS = {
    PRESSURE: every_row(PRESSURE),
    MINIMUM: {"15 kV class": check(MINIMUM, "15 kV class", minimum=6000.1)},
    FACTORS: {"0 degC": check(FACTORS, "0 degC", solid=0.1 + 0.2)},
}


def test_what_is_written_is_read_to_the_last_digit() -> None:
    assert read_checks(checks_text(CHECKS)) == CHECKS
    assert stale(CHECKS) == []


def test_an_empty_file_of_checks_changes_nothing() -> None:
    assert checked_criteria(load(), read_checks(checks_text({}))) == load()


def test_a_check_of_another_figure_is_named_and_has_no_effect() -> None:
    whole = json.loads(checks_text({PRESSURE: every_row(PRESSURE)}))
    whole["checks"][0]["digest"] = "0" * 64
    found = read_checks(json.dumps(whole))
    assert stale(found) == ["vacuum_pressure, residual pressure"]
    assert checked_criteria(load(), found) == load()


def first(change: Callable[[dict[str, Any]], Any]) -> str:
    """Return the file of one check, changed."""
    whole = json.loads(checks_text({PRESSURE: every_row(PRESSURE)}))
    change(whole["checks"][0])
    return json.dumps(whole)


def put(**fields: Any) -> str:
    return first(lambda one: one.update(fields))


FAULTY: dict[str, tuple[str, str]] = {
    "nothing": ("", "no JSON"),
    "a list": ("[]", "'schema' and 'checks'"),
    "deep": ("[" * 100_000, "no JSON"),
    "another schema": (json.dumps({"schema": "x", "checks": []}), SCHEMA),
    "more beside it": (
        json.dumps({"schema": SCHEMA, "checks": [], "more": 1}),
        "nothing else",
    ),
    "a name twice": ('{"schema": 1, "schema": 1}', "twice"),
    "a field missing": (first(lambda one: one.pop("by")), "check 1: has not just"),
    "a field too many": (put(trusted=True), "check 1: has not just"),
    "no text": (put(edition=2023), "'edition' is no text"),
    "no such table": (put(table="no_such"), "is no row of"),
    "no such row": (put(row="no such"), "is no row of"),
    "no edition": (put(edition=" "), "'edition' is blank"),
    "nobody": (put(by=""), "'by' is blank"),
    "no date": (put(on="yesterday"), "is no date"),
    "figures as a list": (put(figures=[]), "no list of figures"),
    "a column that is not there": (put(figures={"x": "1"}), "'x' cannot be corrected"),
    "a figure as a number": (put(figures={"limit_pa": 0.02}), "as text"),
    "a figure that is none": (put(figures={"limit_pa": "0,02"}), "comma"),
    "not a number": (put(figures={"limit_pa": "nan"}), "nan"),
    "another sign": (put(figures={"limit_pa": "-1"}), "another sign"),
}


@pytest.mark.parametrize(("text", "words"), FAULTY.values(), ids=FAULTY)
def test_what_is_refused(text: str, words: str) -> None:
    with pytest.raises(InputError) as refused:
        read_checks(text)
    assert any(words in str(fault) for fault in refused.value.faults), refused.value


def test_a_row_that_stands_there_twice_is_refused() -> None:
    whole = json.loads(checks_text({PRESSURE: every_row(PRESSURE)}))
    whole["checks"] *= 2
    with pytest.raises(InputError, match="stands there twice"):
        read_checks(json.dumps(whole))


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=8,
)


@pytest.mark.property
@given(st.dictionaries(st.sampled_from(["schema", "checks", "x"]), JSON), JSON)
def test_whatever_it_holds_it_is_read_or_refused(whole: Any, item: Any) -> None:
    for text in (json.dumps(whole), json.dumps({"schema": SCHEMA, "checks": [item]})):
        try:
            found = read_checks(text)
        except InputError:
            continue
        assert all(
            isinstance(one, RowCheck) for r in found.values() for one in r.values()
        )
