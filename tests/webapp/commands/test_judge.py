"""`witnessmark judge`: a contract on columns, JSON, exit codes and faults."""

import csv
import gc
import io
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from webapp.commands.judge import judge_command

ROOT = Path(__file__).resolve().parents[2]
KEYS = [
    "id",
    "test",
    "verdict",
    "value",
    "unit",
    "corrected",
    "corrected_unit",
    "limit_low",
    "limit_high",
    "uncertainty",
    "reason",
    "cite",
    "working",
]
HEAD = "id,test,gear,rated_kv,value,unit,temperature_c,test_kv"
GOOD = "a,insulation_resistance,metal_clad,15,5.00,GOhm,20,2.5"


@pytest.fixture(autouse=True)
def _collecting() -> Iterator[None]:
    """The command turns the collector off for its process, which here is ours."""
    yield
    gc.enable()


def judged(text: str | bytes, *options: str) -> Result:
    """Run the command on what is given to its standard input."""
    return CliRunner().invoke(judge_command, ["-", *options], input=text)


def rows(*lines: str, head: str = HEAD) -> str:
    return "\n".join((head, *lines)) + "\n"


def answers(result: Result) -> list[dict[str, Any]]:
    assert result.exit_code == 0, result.stderr
    return [json.loads(line) for line in result.stdout.splitlines()]


def verdicts(result: Result) -> list[str]:
    return [answer["verdict"] for answer in answers(result)]


# One row of each procedure, worked by hand.
EACH: dict[str, tuple[str, str, dict[str, Any]]] = {
    # 15 kV class, minimum 5000 MOhm at 2.5 kV; at 20 degC nothing is corrected.
    "insulation": (
        HEAD,
        GOOD,
        {
            "verdict": "within",
            "value": 5.0,
            "unit": "GOhm",
            "corrected": 5000.0,
            "corrected_unit": "MOhm",
            "limit_low": 5000.0,
            "limit_high": None,
            "uncertainty": None,
        },
    ),
    # Copper at 40 degC: 43.14 microohms there are 40.0 at 20 degC.
    "contact": (
        "id,test,value,unit,temperature_c,test_current_a,conductor,limit",
        "a,contact_resistance,0.044,mOhm,40,100,copper,0.040",
        {
            "verdict": "outside",
            "value": 0.044,
            "unit": "mOhm",
            "corrected": pytest.approx(40.794, abs=0.001),
            "corrected_unit": "uOhm",
            "limit_low": None,
            "limit_high": pytest.approx(40.0),
        },
    ),
    "withstand": (
        "id,test,gear,rated_kv,value,test_kv,supply,duration_s",
        "a,dielectric_withstand,metal_clad,15,held,27,ac,60",
        {
            "verdict": "within",
            "value": None,
            "unit": None,
            "corrected": None,
            "corrected_unit": None,
            "limit_low": 27.0,
        },
    ),
    # 133.3 Pa a torr: 1e-4 Torr is 0.0133 Pa.
    "vacuum": (
        "id,test,value,unit,method",
        "a,vacuum_integrity,1e-4,Torr,magnetron",
        {
            "verdict": "outside",
            "unit": "Torr",
            "corrected": pytest.approx(0.013332, abs=1e-6),
            "corrected_unit": "Pa",
            "limit_high": 0.01,
        },
    ),
    # 0.1 x 0.14 / (2^0.02 - 1) = 1.0029 s, 5 % on either side.
    "timing": (
        "id,test,value,unit,curve,pickup_a,applied_a,time_dial",
        "a,relay_timing,1020,ms,iec_standard_inverse,400,800,0.1",
        {
            "verdict": "within",
            "unit": "ms",
            "corrected": pytest.approx(1.02),
            "corrected_unit": "s",
            "limit_low": pytest.approx(0.95276, abs=1e-4),
            "limit_high": pytest.approx(1.05305, abs=1e-4),
        },
    ),
}


@pytest.mark.parametrize(("head", "row", "wanted"), EACH.values(), ids=EACH)
def test_a_row_of_each_procedure(head: str, row: str, wanted: dict[str, Any]) -> None:
    answer = answers(judged(rows(row, head=head)))[0]
    assert list(answer) == KEYS
    assert {name: answer[name] for name in wanted} == wanted
    assert answer["cite"]
    assert answer["working"]


# The unit of the maker's limit is that of the value, or kV for a withstand.
LIMITS: dict[str, tuple[str, str, str]] = {
    "in the value's unit": (
        HEAD + ",limit",
        "a,insulation_resistance,metal_clad,15,4,GOhm,20,2.5,3",
        "within",
    ),
    "in kilovolts, ac": (
        "id,test,value,test_kv,supply,duration_s,limit",
        "a,dielectric_withstand,held,20,ac,60,20",
        "within",
    ),
    "in kilovolts, dc": (
        "id,test,value,test_kv,supply,duration_s,limit",
        "a,dielectric_withstand,held,52,dc,60,53",
        "unjudged",
    ),
    "in kilovolts, across a vacuum gap": (
        "id,test,value,test_kv,method,duration_s,limit",
        "a,vacuum_integrity,held,40,dc,60,40",
        "within",
    ),
    "a pressure": (
        "id,test,value,unit,method,limit",
        "a,vacuum_integrity,0.05,Pa,magnetron,0.1",
        "within",
    ),
}


@pytest.mark.parametrize(("head", "row", "verdict"), LIMITS.values(), ids=LIMITS)
def test_the_maker_s_limit(head: str, row: str, verdict: str) -> None:
    assert verdicts(judged(rows(row, head=head))) == [verdict]


def test_accuracy_guards_and_is_reported() -> None:
    """5 % of 5.3 and 0.02: U = 2 x 0.285 / sqrt(3) = 0.3291 GOhm; 5.3 is marginal."""
    row = "a,insulation_resistance,metal_clad,15,5.3,GOhm,20,2.5,5% + 0.02"
    answer = answers(judged(rows(row, head=HEAD + ",accuracy")))[0]
    assert answer["verdict"] == "marginal"
    assert answer["uncertainty"] == pytest.approx(329.1, abs=0.1)


RANGES = "0..10 GOhm: 5% + 0.02; 10..100 GOhm: 10% + 2% range + 3 digits of 0.1"
# value -> verdict, U in MOhm (2 a / sqrt 3), the range that the working names
RANGED = {
    "5.40": ("within", 334.9, "of the range 0 to 10 GΩ"),  # a = 0.29 GOhm
    "10": ("within", 600.4, "of the range 0 to 10 GΩ"),  # the boundary: 0.52 GOhm
    "20": ("within", 4965.2, "of the range 10 to 100 GΩ"),  # 2 + 2 + 0.3 = 4.3 GOhm
    "120": ("unjudged", None, "in none of the ranges"),
}


def test_the_value_picks_the_range_of_the_accuracy() -> None:
    given = [f"{v},insulation_resistance,metal_clad,15,{v},GOhm,20,2.5" for v in RANGED]
    text = rows(*(f"{row},{RANGES}" for row in given), head=HEAD + ",accuracy")
    found = answers(judged(text))
    assert len(found) == len(RANGED)
    for answer, (verdict, u, said) in zip(found, RANGED.values(), strict=True):
        assert answer["verdict"] == verdict
        assert answer["uncertainty"] == (u and pytest.approx(u, abs=0.05))
        assert any(said in line for line in answer["working"])


def test_groups_are_compared_across_the_file_and_the_order_is_kept() -> None:
    head = "id,test,group,value,unit,temperature_c,test_current_a"
    text = rows(
        "a1,contact_resistance,A,30,uOhm,20,100",
        "b1,contact_resistance,B,60,uOhm,20,100",
        "a2,contact_resistance,A,46,uOhm,20,100",
        "b2,contact_resistance,B,46,uOhm,20,100",
        "alone,contact_resistance,,46,uOhm,20,100",
        head=head,
    )
    found = answers(judged(text))
    assert [(a["id"], a["verdict"]) for a in found] == [
        ("a1", "within"),
        ("b1", "within"),
        ("a2", "outside"),
        ("b2", "within"),
        ("alone", "unjudged"),
    ]


def test_one_group_name_in_two_tests_is_two_groups() -> None:
    head = "id,test,group,value,unit,temperature_c,test_current_a,method"
    text = rows(
        "a,contact_resistance,G,30,uOhm,20,100,",
        "b,vacuum_integrity,G,0.001,Pa,,,magnetron",
        head=head,
    )
    assert verdicts(judged(text)) == ["unjudged", "within"]


# What is blank is not given, and what is not given is never a pass.
BLANK = {
    "temperature_c": "a,insulation_resistance,metal_clad,15,9,GOhm,,2.5",
    "test_kv": "a,insulation_resistance,metal_clad,15,9,GOhm,20,",
    "rated_kv": "a,insulation_resistance,metal_clad,,9,GOhm,20,2.5",
    "blanks only": "a,insulation_resistance,metal_clad,15,9,GOhm,  ,2.5",
}


@pytest.mark.parametrize("row", BLANK.values(), ids=BLANK)
def test_blank_is_not_given(row: str) -> None:
    answer = answers(judged(rows(row)))[0]
    assert answer["verdict"] == "unjudged"
    assert "not known" in answer["reason"]


ACCEPTED: dict[str, str | bytes] = {
    "a byte order mark": "\ufeff" + rows(GOOD),
    "carriage returns": rows(GOOD).replace("\n", "\r\n"),
    "no newline at the end": rows(GOOD).rstrip("\n"),
    "blank lines between": rows("", GOOD, "", ""),
    "lines of commas at the end": rows(GOOD, ",,,,,,,"),
    "columns in another order": (
        "value,test_kv,unit,id,temperature_c,test,rated_kv\n"
        "5.00,2.5,GOhm,a,20,insulation_resistance,15\n"
    ),
    "blanks about cells": rows(GOOD.replace(",", " , ")),
    "quoted cells": rows(",".join(f'"{cell}"' for cell in GOOD.split(","))),
    "the sign of the ohm": rows(GOOD.replace("GOhm", "GΩ")).encode(),
}


@pytest.mark.parametrize("text", ACCEPTED.values(), ids=ACCEPTED)
def test_a_file_that_spreadsheets_write_is_read(text: str | bytes) -> None:
    assert verdicts(judged(text)) == ["within"]


def test_a_file_of_a_header_alone_has_no_verdicts() -> None:
    assert answers(judged(rows())) == []


def bad(cells: str, head: str = HEAD) -> str:
    return rows(GOOD, cells.replace(" ", ""), head=head)


# Faults of cells: exit 2, each as "line L, column C: what is wrong".
CELLS: dict[str, tuple[str, str, str]] = {
    "not a number": (
        bad("b,insulation_resistance,metal_clad,15,good,GOhm,20,2.5"),
        "line 3, column value",
        "'good' is not a number",
    ),
    "a decimal comma": (
        bad('b,insulation_resistance,metal_clad,15,"4,2",GOhm,20,2.5'),
        "line 3, column value",
        "decimal point",
    ),
    "no value": (
        bad("b,insulation_resistance,metal_clad,15,,GOhm,20,2.5"),
        "line 3, column value",
        "must not be blank",
    ),
    "a wrong unit": (
        bad("b,insulation_resistance,metal_clad,15,4,seconds,20,2.5"),
        "line 3, column unit",
        "'seconds' does not fit insulation resistance",
    ),
    "no unit": (
        bad("b,insulation_resistance,metal_clad,15,4,,20,2.5"),
        "line 3, column unit",
        "No unit is given",
    ),
    "negative resistance": (
        bad("b,insulation_resistance,metal_clad,15,-4,GOhm,20,2.5"),
        "line 3, column value",
        "cannot be negative",
    ),
    "an id twice": (
        bad("a,insulation_resistance,metal_clad,15,4,GOhm,20,2.5"),
        "line 3, column id",
        "'a' was used in line 2 already",
    ),
    "no id": (
        bad(",insulation_resistance,metal_clad,15,4,GOhm,20,2.5"),
        "line 3, column id",
        "must not be blank",
    ),
    "an unknown test": (
        bad("b,made_up,metal_clad,15,4,GOhm,20,2.5"),
        "line 3, column test",
        "'made_up' is none of arc_flash_relay, ",
    ),
    "an unknown gear": (
        bad("b,insulation_resistance,wooden,15,4,GOhm,20,2.5"),
        "line 3, column gear",
        "'wooden' is none of metal_enclosed",
    ),
    "a temperature that is no number": (
        bad("b,insulation_resistance,metal_clad,15,4,GOhm,warm,2.5"),
        "line 3, column temperature_c",
        "'warm' is not a number",
    ),
    "a temperature as a bound": (
        bad("b,insulation_resistance,metal_clad,15,4,GOhm,>20,2.5"),
        "line 3, column temperature_c",
        "not a plain number",
    ),
    "a negative test voltage": (
        bad("b,insulation_resistance,metal_clad,15,4,GOhm,20,-2.5"),
        "line 3, column test_kv",
        "-2.5 must",
    ),
    "a rating of zero": (
        bad("b,insulation_resistance,metal_clad,0,4,GOhm,20,2.5"),
        "line 3, column rated_kv",
        "Rated maximum voltage: 0 must be above 0 and at most 500 kV.",
    ),
    "another test's outcome": (
        bad("b,insulation_resistance,metal_clad,15,held,GOhm,20,2.5"),
        "line 3, column value",
        "'held' does not fit",
    ),
    "an accuracy of another quantity": (
        rows(GOOD + ",0..10 kV: 1%", head=HEAD + ",accuracy"),
        "line 2, column accuracy",
        "its ranges are not in a unit of the value, which is in GΩ.",
    ),
    "an accuracy in words": (
        rows(
            GOOD + ",", GOOD.replace("a,", "b,", 1) + ",good", head=HEAD + ",accuracy"
        ),
        "line 3, column accuracy",
        "'good' is not an accuracy",
    ),
}


@pytest.mark.parametrize(("text", "place", "what"), CELLS.values(), ids=CELLS)
def test_a_fault_of_a_cell(text: str, place: str, what: str) -> None:
    result = judged(text)
    assert (result.exit_code, result.stdout) == (2, "")
    assert len(result.stderr.splitlines()) == 1
    assert result.stderr.startswith(f"{place}: ")
    assert what in result.stderr


# Faults of the file as a whole.
FILES: dict[str, tuple[str | bytes, str, str]] = {
    "an unknown column": (
        rows(GOOD + ",1", head=HEAD + ",colour"),
        "line 1, column colour",
        "unknown column",
    ),
    "a column without a name": (
        rows(GOOD + ",1", head=HEAD + ","),
        "line 1, column (blank)",
        "unknown column",
    ),
    "a column twice": (
        rows(GOOD + ",5", head=HEAD + ",value"),
        "line 1, column value",
        "more than once",
    ),
    "a missing column": (
        "id,test,unit\na,insulation_resistance,GOhm\n",
        "line 1, column value",
        "missing",
    ),
    "a row too short": (rows("a,insulation_resistance"), "line 2", "2 cells"),
    "a row too long": (rows(GOOD + ",,"), "line 2", "10 cells"),
    "a quote that is not closed": (rows('"' + GOOD), "line", "end of data"),
    "empty": ("", "line 1", "empty"),
    "blanks only": ("\n \n", "line 1", "empty"),
    "UTF-16 with a mark": (rows(GOOD).encode("utf-16"), "line 1", "UTF-16"),
    "UTF-16 without": (rows(GOOD).encode("utf-16-le"), "line 1", "UTF-8"),
    "Latin-1": (
        rows(GOOD, GOOD.replace("a,", "b\u00b5,", 1)).encode("latin-1"),
        "line 3",
        "byte 0xb5 is not UTF-8",
    ),
    "a spreadsheet": (b"PK\x03\x04\x14\x00\x06\x00", "line 1", "NUL"),
}


@pytest.mark.parametrize(("text", "place", "what"), FILES.values(), ids=FILES)
def test_a_fault_of_the_file(text: str | bytes, place: str, what: str) -> None:
    result = judged(text)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(place)
    assert what in result.stderr


def test_of_very_many_unknown_columns_the_first_are_named() -> None:
    many = ",".join(f"c{number}" for number in range(100_000))
    result = judged(rows(GOOD, head=f"{HEAD},{many}"))
    said = result.stderr.splitlines()
    assert (result.exit_code, result.stdout) == (2, "")
    assert said[0].startswith("line 1, column c0: unknown column; known are id, test")
    assert said[49].startswith("line 1, column c49: ")
    assert said[50:] == ["line 1: 99950 further columns are unknown."]


def test_every_fault_is_said_at_once_in_the_order_of_the_file() -> None:
    text = rows(
        "a,insulation_resistance,wooden,15,good,GOhm,warm,2.5",
        GOOD.replace("a,", "b,", 1),
        "b,insulation_resistance,metal_clad,15,4,s,20,2.5",
        "short",
    )
    places = [line.split(": ")[0] for line in judged(text).stderr.splitlines()]
    assert sorted(places[:3]) == [
        "line 2, column gear",
        "line 2, column temperature_c",
        "line 2, column value",
    ]
    assert places[3:] == ["line 4, column id", "line 4, column unit", "line 5"]


def test_lines_are_those_of_the_file_when_a_cell_spans_two() -> None:
    text = rows('"a\nb",' + GOOD.removeprefix("a,"), "c,made_up,,,1,GOhm,,")
    assert judged(text).stderr.startswith("line 4, column test: ")


def test_what_a_cell_holds_cannot_steer_the_terminal() -> None:
    row = 'b,insulation_resistance,metal_clad,15,"4\n\x1b[2Jx",GOhm,20,2.5'
    stderr = judged(rows(row)).stderr
    assert len(stderr.splitlines()) == 1
    assert "\x1b" not in stderr


STRICT: dict[str, tuple[str, int]] = {
    "all within": (rows(GOOD), 0),
    "one outside": (rows(GOOD, GOOD.replace("a,", "b,").replace("5.00", "1")), 1),
    "one unjudged": (rows(GOOD, GOOD.replace("a,", "b,").replace("20,", ",")), 1),
    "a fault": (rows("a"), 2),
    "no rows": (rows(), 0),
}


@pytest.mark.parametrize(("text", "status"), STRICT.values(), ids=STRICT)
def test_strict(text: str, status: int) -> None:
    assert judged(text, "--strict").exit_code == status


def test_csv_for_people_says_the_same() -> None:
    text = rows(GOOD, GOOD.replace("a,", "b,", 1).replace("5.00", "4.9"))
    found = list(csv.DictReader(io.StringIO(judged(text, "--format", "csv").stdout)))
    assert [list(row) for row in found] == [KEYS[:-1]] * 2
    assert [row["verdict"] for row in found] == ["within", "outside"]
    assert [row["value"] for row in found] == ["5.0", "4.9"]
    assert "ANSI/NETA MTS 2019 Table 100.1 15 kV class (published)" in found[0]["cite"]
    assert found[0]["reason"] == ""
    assert found[1]["reason"] == "4.900 GΩ is below the minimum 5.000 GΩ."


def test_csv_with_working_says_what_json_says() -> None:
    text = rows(GOOD, GOOD.replace("a,", "b,", 1).replace("5.00", "4.9"))
    said = judged(text, "--format", "csv", "--working").stdout
    found = list(csv.DictReader(io.StringIO(said)))
    for row, answer in zip(found, answers(judged(text)), strict=True):
        assert list(row) == KEYS
        assert row["reason"] == answer["reason"]
        assert row["working"] == " ".join(answer["working"])
        assert float(row["corrected"]) == answer["corrected"]


def test_csv_of_no_rows_has_its_header() -> None:
    assert judged(rows(), "--format", "csv").stdout == ",".join(KEYS[:-1]) + "\n"


@pytest.mark.parametrize("name", ["a,b", 'a"b', '"', "a\nb", "a\r\nb", "Ω"])
def test_csv_gives_an_id_back_as_it_was(name: str) -> None:
    out = io.StringIO()
    csv.writer(out).writerows([HEAD.split(","), [name, *GOOD.split(",")[1:]]])
    text = judged(out.getvalue(), "--format", "csv").stdout_bytes.decode()
    found = list(csv.reader(io.StringIO(text, newline="")))
    assert [row[0] for row in found] == ["id", name]


# A spreadsheet takes such a cell for a formula.
FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1")


@pytest.mark.parametrize("begin", FORMULAS)
def test_csv_has_no_cell_that_a_spreadsheet_works_out(begin: str) -> None:
    text = rows(GOOD.replace("a,", f'"x{begin}",', 1), GOOD.replace("a,", f"{begin},"))
    found = list(csv.reader(io.StringIO(judged(text, "--format", "csv").stdout)))
    assert [row[0] for row in found[1:]] == [f"x{begin}", f"'{begin.strip()}"]
    assert answers(judged(text))[1]["id"] == begin.strip()


def test_the_table_for_people_says_the_same() -> None:
    text = rows(GOOD, GOOD.replace("a,", "b,", 1).replace("5.00", "4.9"))
    head, first, second = judged(text, "--format", "table").stdout.splitlines()
    assert head.split()[:3] == ["id", "test", "verdict"]
    assert first.split()[:5] == [
        "a",
        "insulation_resistance",
        "within",
        "5000",
        "MΩ",
    ]
    assert second.split()[2] == "outside"


def test_an_unknown_format_is_refused() -> None:
    assert judged(rows(GOOD), "--format", "xml").exit_code == 2


def program(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[bytes]:
    """Run the program itself, far from the checkout."""
    return subprocess.run(
        [sys.executable, "-m", "webapp.cli", *arguments],
        check=False,
        capture_output=True,
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "ascii"},
    )


@pytest.mark.slow
def test_the_program_writes_utf_8_and_bare_newlines(tmp_path: Path) -> None:
    (tmp_path / "readings.csv").write_text(rows(GOOD), "utf-8")
    done = program("judge", "readings.csv", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.endswith(b"}\n")
    assert b"\r" not in done.stdout
    assert "GΩ" in done.stdout.decode("utf-8")


@pytest.mark.slow
def test_the_program_says_faults_and_writes_nothing(tmp_path: Path) -> None:
    (tmp_path / "readings.csv").write_text(rows("a"), "utf-8")
    done = program("judge", "readings.csv", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"line 2: ")


@pytest.mark.slow
def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    done = program("judge", "nothing.csv", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"nothing.csv" in done.stderr


cells = st.one_of(
    st.text(max_size=8),
    st.sampled_from(["4.2", ">200", "<1", "-1", "held", "20", "", "GOhm", "ac", "dc"]),
)


@pytest.mark.property
@given(table=st.lists(st.lists(cells, min_size=8, max_size=8), max_size=4))
def test_any_table_is_judged_or_refused_whole(table: list[list[str]]) -> None:
    out = io.StringIO()
    csv.writer(out).writerows([HEAD.split(","), *table])
    result = judged(out.getvalue().encode("utf-8", "surrogatepass"))
    assert result.exit_code in (0, 2), result.exception
    if result.exit_code == 2:
        assert result.stdout == ""
        assert all(line.startswith("line ") for line in result.stderr.splitlines())


@pytest.mark.property
@given(data=st.binary(max_size=60))
def test_any_bytes_are_refused_on_purpose(data: bytes) -> None:
    result = judged(data)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("line ")


values = st.floats(min_value=0.001, max_value=1e6)


@pytest.mark.property
@given(gigaohms=st.lists(values, min_size=1, max_size=8))
def test_a_row_is_judged_alike_alone_and_among_others(gigaohms: list[float]) -> None:
    lines = [
        f"r{n},insulation_resistance,metal_clad,15,{value!r},GOhm,20,2.5"
        for n, value in enumerate(gigaohms)
    ]
    together = answers(judged(rows(*lines)))
    alone = [answers(judged(rows(line)))[0] for line in lines]
    assert together == alone


def test_moist_air_and_altitude_are_said_and_judge_nothing() -> None:
    head = "id,test,gear,rated_kv,value,unit,temperature_c,air_temperature_c,"
    head += "humidity_pct,test_kv,supply,duration_s,altitude_m\n"
    row = "a,dielectric_withstand,metal_clad,15,held,,12,{},{},27,ac,60,{}\n"
    said = json.loads(judged(head + row.format("14", "70", "2000")).stdout)
    bare = json.loads(judged(head + row.format("", "", "")).stdout)
    assert any("3.4 °C above the dew point" in line for line in said["working"])
    assert any("at 2000 m external air" in line for line in said["working"])
    words = ("cite", "working")
    assert {k: v for k, v in said.items() if k not in words} == {
        k: v for k, v in bare.items() if k not in words
    }
