"""A lineup's table: there and back, and every fault where it is."""

import csv
import io
import random
import zipfile
from collections.abc import Sequence
from functools import cache
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from models.analysis.tables.workbook import look_at_the_archive
from models.analysis.tables.workbook_program import sheets_of
from models.errors import Fault, InputError
from models.fields import Field, Kind, field
from models.procedures.plates import (
    LINEUP,
    apparatus_kinds,
    cell_kinds,
    plate_fields,
)
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
    draft_json,
)
from models.record.lineup_table import read_rows
from models.record.read_lineup_draft import read_draft
from models.services.setup.export_lineup import (
    lineup_csv,
    lineup_workbook,
    template_csv,
    template_workbook,
)
from models.services.setup.import_lineup import read_lineup_table

BEFORE = """\
# A remark.
Lineup,SG-9
Gear,metal_clad
Rated maximum voltage (kV),15
Rated frequency (Hz),60
Bus section,bus A,2000
Bus section,bus B
"""
HEADINGS = (
    "Cell,Cell name,Drawn as,Bus section,Ties to,Apparatus,Label,Serial number,"
    "Rated continuous current (A),Fuse rating (A)\n"
)
FIRST = "1,Incomer,circuit breaker,bus A,,circuit breaker,52-1,V-1,2000,\n"


def faults(data: bytes | str) -> list[str]:
    with pytest.raises(InputError) as refused:
        read_lineup_table(data if isinstance(data, bytes) else data.encode())
    return [str(one) for one in refused.value.faults]


def test_a_table_is_a_lineup() -> None:
    rows = (
        FIRST,
        ",,,,,protection relay,51-1,,,\n",
        "\n",
        "# passed over\n",
        "2,Tie,breaker,bus A,bus B,breaker,52-T,V-2,1200,\n",
        "3,Spare,blank,bus B,,,,,,\n",
    )
    draft = read_lineup_table((BEFORE + HEADINGS + "".join(rows)).encode())
    assert draft_json(draft) == draft_json(TABLE)


TABLE = LineupDraft(
    name="SG-9",
    gear="metal_clad",
    ratings={"rated_kv": 15.0, "rated_hz": 60.0},
    sections=[
        SectionDraft(name="bus A", rated_a=2000.0),
        SectionDraft(name="bus B"),
    ],
    cells=[
        CellDraft(
            number="1",
            name="Incomer",
            kind="breaker",
            bus="bus A",
            apparatus=[
                ApparatusDraft(
                    kind="breaker",
                    label="52-1",
                    plate={"serial": "V-1", "rated_a": 2000.0},
                ),
                ApparatusDraft(kind="relay", label="51-1"),
            ],
        ),
        CellDraft(
            number="2",
            name="Tie",
            kind="breaker",
            bus="bus A",
            tie_to="bus B",
            apparatus=[
                ApparatusDraft(
                    kind="breaker",
                    label="52-T",
                    plate={"serial": "V-2", "rated_a": 1200.0},
                )
            ],
        ),
        CellDraft(number="3", name="Spare", kind="blank", bus="bus B"),
    ],
)


# A unit of the field's own may head a column, and a field's name stands for its unit.
HEADED = {
    "in kA": ("Rated continuous current (kA)", "1.2", {"rated_a": 1200.0}),
    "by its name": ("rated_a", "1200", {"rated_a": 1200.0}),
    "in capitals": ("RATED CONTINUOUS CURRENT (A)", "1200", {"rated_a": 1200.0}),
    "in cycles of 60 Hz": (
        "Earliest opening time (cycles)",
        "3",
        {"open_ms_min": 50.0},
    ),
    "a list": ("Multiplier of the meter", "", {}),
}


@pytest.mark.parametrize(("head", "text", "plate"), HEADED.values(), ids=HEADED)
def test_the_unit_stands_in_the_heading(
    head: str, text: str, plate: dict[str, float]
) -> None:
    headings = f"Cell,Cell name,Drawn as,Bus section,Apparatus,Label,{head}\n"
    row = f"1,Incomer,breaker,bus A,breaker,52-1,{text}\n"
    draft = read_lineup_table((BEFORE + headings + row).encode())
    assert draft.cells[0].apparatus[0].plate == pytest.approx(plate)


# What is in the file, and each fault: its place, and words of it.
FAULTS = {
    "two headings rows": (
        BEFORE + HEADINGS + HEADINGS + FIRST,
        [("row 9, column A", "headings once more")],
    ),
    "shifted": (
        BEFORE + HEADINGS + "1,Incomer,breaker,bus A,,breaker,52-1,V-1,,,2000\n",
        [("row 9, column K", "beyond the last heading")],
    ),
    "shifted by one": (
        BEFORE + HEADINGS + "1,Incomer,breaker,bus A,breaker,52-1,V-1,2000\n",
        [
            ("row 9, column E", "no bus section breaker"),
            ("row 9, column F", "“52-1” is none of"),
        ],
    ),
    "decimal comma": (
        BEFORE + HEADINGS + '1,I,breaker,bus A,,breaker,52-1,V,"1200,5",\n',
        [("row 9, column I", "has a comma")],
    ),
    "a unit in the cell": (
        BEFORE + HEADINGS + "1,I,breaker,bus A,,breaker,52-1,V,1200 A,\n",
        [("row 9, column I", "a separator or a unit")],
    ),
    "outside the possible": (
        BEFORE + HEADINGS + "1,I,fused_switch,bus A,,fused_switch,89,V,-5,0\n",
        [("row 9, column I", "above 0"), ("row 9, column J", "above 0")],
    ),
    "a field that the kind has not": (
        BEFORE + HEADINGS + "1,I,breaker,bus A,,breaker,52-1,V,1200,80\n",
        [("row 9, column J", "has no “Fuse rating”")],
    ),
    "two cells of one number": (
        BEFORE + HEADINGS + FIRST + "1,Feeder,breaker,bus A,,breaker,52-2,V-2,1200,\n",
        [("row 10, column B", "“Incomer” in row 9")],
    ),
    "a number again further down": (
        BEFORE + HEADINGS + FIRST + "2,F,breaker,bus A,,,,,,\n" + FIRST,
        [("row 11, column A", "began in row 9")],
    ),
    "no such section": (
        BEFORE + HEADINGS + "1,I,breaker,bus C,,breaker,52-1,V,1200,\n",
        [("row 9, column D", "no bus section bus C")],
    ),
    "an unknown heading": (
        BEFORE + HEADINGS.replace("Serial number", "Serial nr") + FIRST,
        [("row 8, column H", "“Serial nr” is no heading")],
    ),
    "a misspelt heading is told the right one": (
        BEFORE + HEADINGS.replace("Serial number", "Serial numbr") + FIRST,
        [("row 8, column H", "Did you mean “Serial number”?")],
    ),
    "a heading without its unit": (
        BEFORE + HEADINGS.replace("current (A)", "current") + FIRST,
        [("row 8, column I", "Did you mean “Rated continuous current (A)”?")],
    ),
    "a heading twice": (
        BEFORE + HEADINGS.replace("Fuse rating (A)", "Serial number") + FIRST,
        [("row 8, column J", "stands twice")],
    ),
    "a column without heading": (
        BEFORE + HEADINGS.replace("Serial number", "") + FIRST,
        [("row 9, column H", "no heading")],
    ),
    "a column that is missing": (
        BEFORE + HEADINGS.replace("Label", "") + FIRST,
        [("row 8, column A", "The column “Label” is missing")],
    ),
    "a serial number twice": (
        BEFORE + HEADINGS + FIRST + "2,F,breaker,bus A,,breaker,52-2,V-1,1200,\n",
        [("row 10, column H", "serial number V-1 already")],
    ),
    "lines before the table": (
        BEFORE.replace("15", "15 kV").replace("60", "61")
        + "Colour,red\nGear,metal_clad,\nRated frequency (Hz),50\n"
        + HEADINGS
        + FIRST,
        [
            ("row 4, column B", "a separator or a unit"),
            ("row 5, column B", "between 16 and 60"),
            ("row 8, column A", "“Colour” is nothing that a lineup gives"),
            ("row 10, column A", "is given twice"),
        ],
    ),
    "no table": (BEFORE, [("the file", "No row has the headings")]),
    "nothing of it": ("a,b\nc,d\n", [("the file", "No row has the headings")]),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS)
def test_every_fault_is_said_where_it_is(
    text: str, expected: list[tuple[str, str]]
) -> None:
    found = faults(text)
    assert len(found) == len(expected), found
    for place, words in expected:
        assert [
            one for one in found if one.startswith(f"{place}: ") and words in one
        ], found


@pytest.mark.parametrize("gear", ["metal_clad", "metal_enclosed", "gas_insulated"])
def test_an_empty_template_lacks_only_what_is_to_be_filled_in(gear: str) -> None:
    said = faults(template_csv(gear))
    assert [one.partition(": ")[2] for one in said] == [
        "Give the lineup a name.",
        "Give the rated maximum voltage in kV.",
    ]


def test_a_template_as_a_workbook_can_be_filled_in() -> None:
    book = load_workbook(io.BytesIO(template_workbook("metal_clad")))
    assert book.sheetnames == ["Lineup", "Apparatus", "Words"]
    lines = {str(row[0].value): row[0].row for row in book["Lineup"].iter_rows()}
    for name, value in (("Lineup", "SG-9"), ("Rated maximum voltage (kV)", 15)):
        book["Lineup"].cell(lines[name], 2).value = value
    book["Lineup"].cell(lines["Bus section"], 2).value = "bus A"
    table = book["Apparatus"]
    heads = {str(cell.value): cell.column for cell in table[1]}
    filled = {
        "Cell": 1,
        "Cell name": "Incomer",
        "Drawn as": "circuit breaker",
        "Bus section": "bus A",
        "Apparatus": "circuit breaker",
        "Label": "52-1",
        "Rated continuous current (A)": 2000,
        "Year built": 2024,
    }
    for name, value in filled.items():
        table.cell(table.max_row + (name == "Cell"), heads[name]).value = value
    target = io.BytesIO()
    book.save(target)
    draft = read_lineup_table(target.getvalue())
    assert draft.cells[0].apparatus[0].plate == {"rated_a": 2000.0, "built_year": 2024}


def test_what_begins_like_a_formula_is_none() -> None:
    held = ApparatusDraft(
        kind="breaker", label="=1+1", plate={"serial": "-2", "type": "@x"}
    )
    draft = LineupDraft(
        name="+SG",
        gear="metal_clad",
        ratings={"rated_kv": 15.0},
        sections=[SectionDraft(name="A")],
        cells=[
            CellDraft(number="1", name="'n", kind="breaker", bus="A", apparatus=[held])
        ],
    )
    data = lineup_workbook(draft)
    book = load_workbook(io.BytesIO(data))
    kinds = {c.data_type for sheet in book for row in sheet.iter_rows() for c in row}
    assert kinds <= {"s", "n"}
    rows = list(csv.reader(io.StringIO(lineup_csv(draft).decode())))
    cells = [cell for row in rows for cell in row]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]
    assert read_lineup_table(data) == read_lineup_table(lineup_csv(draft)) == draft


TEXT = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp", "Zs"]),
    min_size=1,
    max_size=12,
) | st.sampled_from(["#", "# 1", "#1", "\\", "\\# 2", "'", "=", "-"])


@cache
def value_of(one: Field) -> st.SearchStrategy[Any]:
    """Return values that a field may hold."""
    if one.kind is Kind.TEXT:
        return TEXT
    if one.kind is Kind.YES_NO:
        return st.booleans()
    if one.kind is Kind.CHOICE:
        return st.sampled_from(list(one.choices))
    if one.whole:
        return st.integers(1950, 2050)
    low = one.least if one.least is not None else one.above
    number = st.floats(low or 0.0, one.greatest or 1e6).filter(one.allows)
    return st.lists(number, min_size=1, max_size=3) if one.many else number


@cache
def plate_of(kind: str) -> st.SearchStrategy[dict[str, Any]]:
    names = {one.name: value_of(one) for one in plate_fields(kind)}
    some = st.lists(st.sampled_from(sorted(names)), unique=True, max_size=5)
    return some.flatmap(
        lambda chosen: st.fixed_dictionaries({n: names[n] for n in chosen})
    )


@st.composite
def drafts(draw: st.DrawFn) -> LineupDraft:
    """Return a lineup that can be."""
    sections = draw(
        st.lists(TEXT, min_size=1, max_size=3, unique_by=str.casefold), label="sections"
    )
    numbers = draw(st.lists(TEXT, min_size=1, max_size=4, unique_by=str.casefold))
    ratings = draw(plate_of(LINEUP)) | {"rated_kv": draw(value_of(field("rated_kv")))}
    cells = [
        CellDraft(
            id=draw(st.none() | st.uuids()),
            number=number,
            name=draw(TEXT),
            kind=draw(st.sampled_from(sorted(cell_kinds()))),
            bus=sections[0],
            tie_to=draw(st.sampled_from([None, *sections[1:]])),
            apparatus=draw(apparatus_lists(number)),
        )
        for number in numbers
    ]
    return LineupDraft(
        name=draw(TEXT),
        gear=draw(st.sampled_from(list(field("gear").choices))),
        ratings=ratings,
        sections=[
            SectionDraft(name=one, rated_a=draw(value_or_none())) for one in sections
        ],
        cells=cells,
    )


def value_or_none() -> st.SearchStrategy[float | None]:
    return st.none() | value_of(field("rated_a"))


@st.composite
def apparatus_lists(draw: st.DrawFn, number: str) -> Sequence[ApparatusDraft]:
    labels = draw(st.lists(TEXT, max_size=3, unique_by=str.casefold))
    held = []
    for label in labels:
        kind = draw(st.sampled_from(sorted(apparatus_kinds())))
        plate = draw(plate_of(kind))
        if "serial" in plate:
            plate["serial"] = f"{number}/{label}"
        held.append(
            ApparatusDraft(
                id=draw(st.none() | st.uuids()), kind=kind, label=label, plate=plate
            )
        )
    return held


@pytest.mark.property
@settings(deadline=None, max_examples=15)
@given(drafts())
def test_a_table_gives_the_same_lineup_back(draft: LineupDraft) -> None:
    draft = read_draft(draft_json(draft))
    of_csv = read_lineup_table(lineup_csv(draft))
    of_workbook = read_rows(sheets_of(lineup_workbook(draft))["sheets"])
    assert draft_json(of_csv) == draft_json(of_workbook) == draft_json(draft)


def sample() -> LineupDraft:
    return read_draft(
        {
            "name": "SG",
            "gear": "metal_clad",
            "ratings": {"rated_kv": 15.0},
            "sections": [{"name": "A", "rated_a": 2000.0}],
            "cells": [
                {
                    "id": str(UUID(int=n)),
                    "number": str(n),
                    "name": f"Feeder {n}",
                    "kind": "breaker",
                    "bus": "A",
                    "tie_to": None,
                    "apparatus": [
                        {"kind": "breaker", "label": "52", "plate": {"rated_a": 1200.0}}
                    ],
                }
                for n in range(1, 4)
            ],
        }
    )


@pytest.mark.parametrize("seed", range(40))
def test_a_spoilt_file_is_read_or_refused_in_words(seed: int) -> None:
    """Bytes changed, cut and doubled: a lineup or faults, never anything else."""
    dice = random.Random(seed)
    data = bytearray(lineup_csv(sample()))
    for _ in range(dice.randint(1, 8)):
        at = dice.randrange(len(data))
        match dice.randrange(4):
            case 0:
                data[at] = dice.randrange(256)
            case 1:
                del data[at : at + dice.randint(1, 60)]
            case 2:
                data[at:at] = data[at : at + dice.randint(1, 200)]
            case _:
                data[at:at] = dice.choice([b",", b"\n", b'"', b"\xff", b"=", b"\0"])
    said: Sequence[Fault] = ()
    try:
        read_lineup_table(bytes(data))
    except InputError as refused:
        said = refused.faults
    assert all(one.field and one.message for one in said)


@pytest.mark.parametrize("seed", range(40))
def test_a_spoilt_workbook_is_read_or_refused_in_words(seed: int) -> None:
    """Bytes of the archive changed, or of the XML that is in it."""
    dice = random.Random(seed)
    whole = lineup_workbook(sample())
    data = spoilt_parts(whole, dice) if seed % 2 else spoilt(whole, dice)
    said: Sequence[Fault] = ()
    try:
        look_at_the_archive(data)
        found = sheets_of(data)
        if "sheets" in found:
            read_rows(found["sheets"])
    except InputError as refused:
        said = refused.faults
    assert all(one.field and one.message for one in said)


def spoilt(data: bytes, dice: random.Random) -> bytes:
    """Return *data* with some of its bytes changed."""
    changed = bytearray(data)
    for _ in range(dice.randint(1, 6)):
        changed[dice.randrange(len(changed))] = dice.randrange(256)
    return bytes(changed)


def spoilt_parts(data: bytes, dice: random.Random) -> bytes:
    """Return the workbook *data* with words of its parts changed."""
    words = [b"<v>", b"r=", b't="s"', b"1", b"sheet", b"/>", b"</c>", b"Relationship"]
    target = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as archive,
        zipfile.ZipFile(target, "w") as other,
    ):
        for name in archive.namelist():
            part = archive.read(name)
            if dice.random() < 0.5:
                word = dice.choice(words)
                instead = dice.choice([b"", b"999999999", b"<", b"&#0;", word * 2])
                part = part.replace(word, instead, dice.randint(1, 3))
            other.writestr(name, part)
    return target.getvalue()
