"""Rows that an organisation checked: what holds, what is cited, what a rule takes."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from models.criteria.checked import (
    RowCheck,
    checkable,
    checked_criteria,
    checked_table_file,
    correctable,
    row_digest,
)
from models.criteria.loader import load, read_table_file, table_files
from models.criteria.views import view
from models.errors import CriteriaError
from models.judging import Rule
from models.judging.rules import cite_words
from models.procedures import Subject, compile_rule

FACTORS, MINIMUM = "insulation_correction_20", "insulation_minimum"
PRESSURE, METALS = "vacuum_pressure", "metals"
OF = "by Otto Heron of Fathom Line Testing on 2026-03-02"


def row_of(table: str, name: str) -> Mapping[str, Any]:
    return next(row for row in table_files()[table].rows if row["row"] == name)


def check(table: str, name: str, **figures: float) -> RowCheck:
    return RowCheck(
        digest=row_digest(table_files()[table], row_of(table, name)),
        figures=figures,
        edition="2023",
        clause="page 12",
        reason="so printed" if figures else "",
        by="Otto Heron",
        organisation="Fathom Line Testing",
        on=date(2026, 3, 2),
    )


def every_row(table: str) -> dict[str, RowCheck]:
    return {row["row"]: check(table, row["row"]) for row in table_files()[table].rows}


def rule(
    procedure: str, subject: Subject, checks: Mapping[str, Mapping[str, RowCheck]]
) -> Rule:
    return compile_rule(procedure, subject, checked_criteria(load(), checks))


def test_a_confirmed_row_is_cited_with_who_confirmed_it() -> None:
    found = rule("vacuum_integrity", Subject(), {PRESSURE: every_row(PRESSURE)})
    cite = found.cite[found.bounds[-1]["cite"]]
    assert cite["provenance"] == "confirmed"
    said = cite_words(cite)
    assert f"compared with edition 2023, page 12, {OF}" in said
    assert said.endswith("; confirmed against a licensed copy.")
    assert "from memory" not in said


def test_a_corrected_figure_is_what_the_rule_takes() -> None:
    name = "15 kV class"
    old = row_of(MINIMUM, name)["minimum"]
    subject = Subject(rated_kv=15.0)
    checks = {MINIMUM: {name: check(MINIMUM, name, minimum=6000.0)}}
    found = rule("insulation_resistance", subject, checks)
    assert [b["value"] for b in found.bounds] == [6000.0]
    assert found.cite[0]["provenance"] == "corrected"
    told = f"Minimum 6000 MΩ in the place of {old:g} MΩ (so printed)"
    assert told in found.cite[0]["note"]
    untouched = rule("insulation_resistance", Subject(rated_kv=5.0), checks)
    assert untouched == compile_rule(
        "insulation_resistance", Subject(rated_kv=5.0), load()
    )


def test_the_notes_that_a_rule_makes_itself_keep_who_confirmed() -> None:
    fraction = "withstand_field_fraction"
    subject = Subject(gear="metal_clad", rated_kv=15.0, rated_withstand_kv=36.0)
    found = rule("dielectric_withstand", subject, {fraction: every_row(fraction)})
    note = found.cite[0]["note"]
    assert note.startswith("0.75 of the rated power-frequency withstand")
    assert note.endswith(f"; compared with edition 2023, page 12, {OF}")


def unread(column: str, *words: str) -> list[str]:
    """Return the rows whose figure of that column is known as one of *words*."""
    rows = table_files()[FACTORS].rows
    return [r["row"] for r in rows if r[f"{column}_provenance"] in words]


def column_cite(checks: Mapping[str, RowCheck]) -> Mapping[str, Any]:
    found = rule("insulation_resistance", Subject(rated_kv=15.0), {FACTORS: checks})
    return found.cite[found.correction["cite"]]


def test_a_column_is_confirmed_once_no_figure_is_recalled_or_worked_out() -> None:
    names = unread("solid", "memory", "computed")
    assert len(names) > 1, "the table has nothing from memory any more"
    whole = column_cite({name: check(FACTORS, name) for name in names})
    assert whole["provenance"] == "confirmed"
    assert "still from memory" not in whole["note"]
    assert whole["note"].count("compared with") == 1  # one act, said once


def test_what_is_worked_out_is_not_confirmed_by_what_was_recalled() -> None:
    names = unread("solid", "memory")
    part = column_cite({name: check(FACTORS, name) for name in names})
    assert part["provenance"] == "computed"


def test_a_column_confirmed_in_part_counts_what_is_left() -> None:
    worked_out = unread("solid", "computed")[0]
    part = column_cite({worked_out: check(FACTORS, worked_out)})
    assert part["provenance"] == "memory"
    left, all_of_it = len(unread("solid", "memory")), len(table_files()[FACTORS].rows)
    assert f"{left} of {all_of_it} figures still from memory" in part["note"]


def test_an_unchecked_column_is_cited_as_ever() -> None:
    assert column_cite({}) == {
        "document": "ANSI/NETA ATS and MTS",
        "edition": "as printed 2003 to 2019",
        "table": "Table 100.14.1",
        "row": "column solid",
        "provenance": "memory",
        "note": "correction factors",
    }


def test_a_correction_of_the_other_column_is_not_said_of_this_one() -> None:
    names = unread("solid", "memory", "computed")
    checks = {name: check(FACTORS, name) for name in names}
    checks[names[0]] = check(FACTORS, names[0], oil=0.13)
    assert column_cite(checks)["provenance"] == "confirmed"
    assert "in the place of" not in column_cite(checks)["note"]
    checks[names[1]] = check(FACTORS, names[1], solid=0.33)
    assert column_cite(checks)["provenance"] == "corrected"
    assert f"{names[1]}: Solid 0.33 in the place of" in column_cite(checks)["note"]


def test_a_check_of_other_figures_does_not_hold() -> None:
    """A later program ships another figure in the row: its check was of the old."""
    table_file = table_files()[PRESSURE]
    moved = replace(table_file, rows=({**table_file.rows[0], "limit_pa": 0.02},))
    assert checked_table_file(moved, {PRESSURE: every_row(PRESSURE)}).rows == moved.rows


CHANGES: dict[str, tuple[dict[str, Any], bool]] = {
    "a figure": ({"limit_pa": 0.02}, True),
    "the name of the row": ({"row": "pressure"}, True),
    "a note": ({"note": "other words"}, False),
    "the provenance": ({"provenance": "published", "source": "a copy"}, False),
    "the doubt": ({"doubtful": "no more"}, False),
}


@pytest.mark.parametrize(("change", "moves"), CHANGES.values(), ids=CHANGES)
def test_what_moves_the_digest(change: dict[str, Any], moves: bool) -> None:
    table_file, row = table_files()[PRESSURE], table_files()[PRESSURE].rows[0]
    assert (
        row_digest(table_file, {**row, **change}) != row_digest(table_file, row)
    ) is moves


def test_the_digest_is_of_the_edition_too() -> None:
    table_file = table_files()[PRESSURE]
    other = replace(table_file, edition="another")
    assert row_digest(other, table_file.rows[0]) != row_digest(
        table_file, table_file.rows[0]
    )


def test_no_two_rows_share_a_digest() -> None:
    found = [row_digest(s, row) for s in table_files().values() for row in s.rows]
    assert len(found) == len(set(found))


def test_practice_is_no_page_of_a_document() -> None:
    tolerance = table_files()["relay_tolerance"]
    assert not checkable(tolerance, tolerance.rows[0])
    assert all(
        checkable(table_files()[FACTORS], row) for row in table_files()[FACTORS].rows
    )


def test_what_names_a_row_cannot_be_corrected() -> None:
    for table_file in table_files().values():
        for row in table_file.rows:
            for column in correctable(table_file, row):
                assert column.name not in (table_file.order, table_file.group)
                assert isinstance(row[column.name], int | float)


def test_a_checked_table_counts_its_figures_so() -> None:
    table_file = checked_table_file(table_files()[METALS], {METALS: every_row(METALS)})
    assert view(table_file).counts == {"confirmed": 2}
    names = unread("solid", "memory")
    one = {names[0]: check(FACTORS, names[0], solid=0.3)}
    counts = view(checked_table_file(table_files()[FACTORS], {FACTORS: one})).counts
    assert (counts["corrected"], counts["confirmed"]) == (1, 1)


def test_a_file_cannot_say_of_itself_that_it_was_confirmed() -> None:
    with pytest.raises(CriteriaError, match="confirmed"):
        read_table_file("x.toml", _file("confirmed"))


def _file(provenance: str) -> dict[str, Any]:
    return {
        "key": "x",
        "title": "X",
        "document": "D",
        "edition": "E",
        "table": "T",
        "quantity": "q",
        "unit": "kV",
        "note": "n",
        "default": True,
        "applies_to": ["bus"],
        "column": {"a_kv": {"label": "A", "unit": "kV"}},
        "row": [{"row": "r", "a_kv": 1.0, "provenance": provenance, "source": "s"}],
    }


def test_a_head_does_not_say_what_a_check_would_have_to_unsay() -> None:
    for table_file in table_files().values():
        head = (
            table_file.document,
            table_file.edition,
            table_file.table,
            table_file.title,
        )
        assert "memory" not in " ".join(head), table_file.key
