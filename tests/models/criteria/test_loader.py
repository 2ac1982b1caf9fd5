"""A criteria file that is not in order is refused, with file, row and field."""

from copy import deepcopy
from typing import Any

import pytest

from models.criteria.loader import read_table_file
from models.criteria.strict import family_faults
from models.criteria.table_file import TableFile
from models.errors import CriteriaError
from models.judging import Criteria

ROW = {
    "row": "1 kV",
    "class_kv": 1.0,
    "least": 5,
    "provenance": "published",
    "source": "a page",
}
SOUND: dict[str, Any] = {
    "key": "made_up",
    "title": "Made up",
    "document": "Made-up document",
    "edition": "2020",
    "table": "1",
    "quantity": "insulation resistance",
    "unit": "MOhm",
    "reference_c": 20.0,
    "applies_to": ["bus"],
    "note": "Made up for a test.",
    "default": True,
    "order": "class_kv",
    "column": {
        "class_kv": {"label": "Class", "unit": "kV"},
        "least": {"label": "At least", "unit": "MOhm"},
        "by": {"label": "By", "kind": "text"},
        "shown": {"label": "Shown", "kind": "yes"},
    },
    "row": [
        {**ROW, "by": "hand", "shown": True},
        {**ROW, "row": "2 kV", "class_kv": 2.0, "least_provenance": "memory"},
    ],
}


def test_a_sound_file_is_read() -> None:
    table_file = read_table_file("made_up.toml", SOUND)
    assert (table_file.key, table_file.edition, len(table_file.rows)) == (
        "made_up",
        "2020",
        2,
    )
    assert [column.kind for column in table_file.columns] == [
        "number",
        "number",
        "text",
        "yes",
    ]
    assert table_file.as_table().rows == table_file.rows


HEAD = (
    "key title document edition table quantity unit note default applies_to column row"
)


@pytest.mark.parametrize("field", HEAD.split())
def test_a_missing_head_is_refused(field: str) -> None:
    data = {name: value for name, value in SOUND.items() if name != field}
    with pytest.raises(CriteriaError, match=rf"made_up\.toml: '{field}' is missing"):
        read_table_file("made_up.toml", data)


HEADS: dict[str, tuple[dict[str, Any], str]] = {
    "a field nobody knows": ({"editoin": "2021"}, "'editoin' is not known"),
    "an empty title": ({"title": ""}, "'title' is empty"),
    "a word for a switch": ({"default": "yes"}, "'default' is no bool"),
    "a whole reference": ({"reference_c": "20"}, "'reference_c' is no float"),
    "a unit nobody knows": ({"unit": "furlong"}, "unit 'furlong' is not known"),
    "gear nobody knows": ({"applies_to": ["boat"]}, "applies_to 'boat' is not known"),
    "an order without column": ({"order": "size"}, "order 'size' is no column"),
}


@pytest.mark.parametrize(("change", "said"), HEADS.values(), ids=HEADS)
def test_an_unsound_head_is_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(CriteriaError, match=f"made_up.toml: {said}"):
        read_table_file("made_up.toml", SOUND | change)


COLUMNS: dict[str, tuple[str, dict[str, Any], str]] = {
    "of unknown unit": ("least", {"unit": "stone"}, "unit 'stone' is not known"),
    "of unknown kind": ("least", {"kind": "song"}, "kind 'song' is not known"),
    "without label": ("least", {"label": ""}, "'label' is missing"),
    "with a field nobody knows": ("least", {"size": "4"}, "'size' is not known"),
    "whose name says another": (
        "class_kv",
        {"unit": "V"},
        "the name says kV, the unit V",
    ),
    "in no row": ("other", {"label": "Other", "unit": "1"}, "no row has it"),
    "named like a row's field": (
        "note",
        {"label": "Note", "kind": "text"},
        "a row's own field",
    ),
}


@pytest.mark.parametrize(("name", "change", "said"), COLUMNS.values(), ids=COLUMNS)
def test_an_unsound_column_is_refused(
    name: str, change: dict[str, Any], said: str
) -> None:
    data = deepcopy(SOUND)
    data["column"][name] = data["column"].get(name, {}) | change
    with pytest.raises(CriteriaError, match=f"column '{name}': .*{said}"):
        read_table_file("made_up.toml", data)


ROWS: dict[str, tuple[dict[str, Any], str]] = {
    "without a source": ({"source": ""}, "row 2: 'source' is missing"),
    "without a provenance": ({"provenance": ""}, "row 2: 'provenance' is missing"),
    "without a name": ({"row": ""}, "row 2: 'row' is missing"),
    "of unknown provenance": ({"provenance": "rumour"}, "'rumour' is none of"),
    "with a value of unknown provenance": (
        {"least_provenance": "rumour"},
        "row 2: least_provenance 'rumour' is none of",
    ),
    "below the row before": ({"class_kv": 0.5}, "do not ascend by class_kv: '2 kV'"),
    "like the row before": ({"class_kv": 1.0}, "do not ascend by class_kv"),
    "with a field nobody knows": ({"lesat": 5}, "row 2: 'lesat' is not known"),
    "with a doubt about no column": (
        {"lesat_doubtful": "smudged"},
        "row 2: 'lesat_doubtful' is not known",
    ),
    "with a number as text": ({"least": "5"}, "row 2: 'least' cannot be '5'"),
    "with no number": ({"least": float("nan")}, "row 2: 'least' cannot be nan"),
    "with yes for a number": ({"least": True}, "row 2: 'least' cannot be True"),
    "with a number for a word": ({"by": 3}, "row 2: 'by' cannot be 3"),
    "with a word for yes": ({"shown": "yes"}, "row 2: 'shown' cannot be 'yes'"),
    "with an empty doubt": ({"doubtful": ""}, "row 2: 'doubtful' is empty"),
    "with a doubt that is no text": ({"doubtful": True}, "row 2: 'doubtful' is no"),
    "named like the row before": ({"row": "1 kV"}, "two rows are named '1 kV'"),
    "with the unit of the head": ({"unit": "kV"}, "row 2: 'unit' stands in the head"),
}


@pytest.mark.parametrize(("change", "said"), ROWS.values(), ids=ROWS)
def test_an_unsound_row_is_refused(change: dict[str, Any], said: str) -> None:
    data = deepcopy(SOUND)
    data["row"][1] |= change
    with pytest.raises(CriteriaError, match=said):
        read_table_file("made_up.toml", data)


def test_every_fault_is_said_at_once() -> None:
    data = deepcopy(SOUND)
    data["row"][0] |= {"source": ""}
    data["row"][1] |= {"least": "5", "lesat": 4}
    with pytest.raises(CriteriaError) as raised:
        read_table_file("made_up.toml", data)
    assert str(raised.value).count("made_up.toml, row") == 3


def test_a_row_that_is_no_table_is_refused() -> None:
    with pytest.raises(CriteriaError, match="row 2: is no table"):
        read_table_file("made_up.toml", SOUND | {"row": [SOUND["row"][0], 5]})


def test_a_row_without_the_column_that_orders_is_refused() -> None:
    data = deepcopy(SOUND)
    del data["row"][1]["class_kv"]
    with pytest.raises(CriteriaError, match="row 2: 'class_kv' orders the rows"):
        read_table_file("made_up.toml", data)


def mixed(*units: str | None) -> dict[str, Any]:
    """Return a table whose rows each name their unit."""
    data = deepcopy(SOUND)
    data["unit"] = data["column"]["least"]["unit"] = "mixed"
    for row, unit in zip(data["row"], units, strict=True):
        row |= {"unit": unit} if unit else {}
    return data


def test_rows_of_a_mixed_table_name_their_units() -> None:
    table_file = read_table_file("made_up.toml", mixed("kV", "Pa"))
    assert [row["unit"] for row in table_file.rows] == ["kV", "Pa"]


@pytest.mark.parametrize("unit", [None, "stone"])
def test_a_row_of_a_mixed_table_without_a_unit_is_refused(unit: str | None) -> None:
    with pytest.raises(CriteriaError, match=r"row 2: unit '(stone)?' is not known"):
        read_table_file("made_up.toml", mixed("kV", unit))


def grouped(*groups: str) -> dict[str, Any]:
    """Return a table of as many rows at 1 kV as there are groups."""
    head = SOUND | {"group": "by"}
    rows = [{**ROW, "row": f"{n}", "by": by} for n, by in enumerate(groups)]
    rows[0]["shown"] = True  # each column stands in a row
    return head | {"row": rows}


def test_rows_ascend_within_their_group() -> None:
    assert len(read_table_file("made_up.toml", grouped("a", "b")).rows) == 2
    with pytest.raises(CriteriaError, match="do not ascend"):
        read_table_file("made_up.toml", grouped("a", "a"))


def test_a_group_that_stands_apart_is_refused() -> None:
    with pytest.raises(CriteriaError, match="rows of by 'a' stand apart"):
        read_table_file("made_up.toml", grouped("a", "b", "a"))


def family(**heads: dict[str, Any]) -> list[str]:
    """Return the faults of a folder of made-up tables, by key."""
    table_files: dict[str, TableFile] = {
        key: read_table_file(f"{key}.toml", SOUND | {"key": key} | head)
        for key, head in heads.items()
    }
    return sorted(set(family_faults(table_files)))


OTHER = {"default": False, "sibling": ["one"]}
FAMILIES: dict[str, tuple[dict[str, dict[str, Any]], list[str]]] = {
    "two prints side by side": ({"one": {"sibling": ["two"]}, "two": OTHER}, []),
    "an older print": (
        {"one": {"supersedes": "two"}, "two": {"default": False}},
        [],
    ),
    "a sibling that is not there": (
        {"one": {"sibling": ["two"]}},
        ["one.toml: 'two' is no other table"],
    ),
    "its own sibling": (
        {"one": {"sibling": ["one"]}},
        ["one.toml: 'one' is no other table", "one.toml: 2 defaults among"],
    ),
    "a sibling that does not know": (
        {"one": {"sibling": ["two"]}, "two": {"default": False}},
        ["one.toml: 'two' does not name it as a sibling"],
    ),
    "two defaults": (
        {"one": {"sibling": ["two"]}, "two": OTHER | {"default": True}},
        ["one.toml: 2 defaults among", "two.toml: 2 defaults among"],
    ),
    "no default": (
        {"one": {"sibling": ["two"], "default": False}, "two": OTHER},
        ["one.toml: 0 defaults among", "two.toml: 0 defaults among"],
    ),
    "an older print by default": (
        {"one": {"supersedes": "two"}, "two": {}},
        ["one.toml: 'two' is superseded and yet a default"],
    ),
}


@pytest.mark.parametrize(("heads", "said"), FAMILIES.values(), ids=FAMILIES)
def test_prints_of_one_thing_name_each_other(
    heads: dict[str, dict[str, Any]], said: list[str]
) -> None:
    found = family(**heads)
    assert len(found) == len(said)
    for fault, words in zip(found, sorted(said), strict=True):
        assert fault.startswith(words)


def test_a_table_that_is_not_there_is_named(criteria: Criteria) -> None:
    with pytest.raises(CriteriaError, match="'made_up' is missing"):
        criteria.table("made_up")


def test_find_answers_none_where_the_document_has_no_row(criteria: Criteria) -> None:
    table = criteria.table("field_metal_clad")
    assert table.find(lambda row: row["rated_kv"] == 12.0) is None


def test_a_cite_carries_document_edition_table_row_and_provenance(
    criteria: Criteria,
) -> None:
    table = criteria.table("insulation_minimum")
    row = table.find(lambda r: r["class_kv"] == 15.0)
    assert row is not None
    assert table.cite(row) == {
        "document": "ANSI/NETA MTS",
        "edition": "2019",
        "table": "Table 100.1",
        "row": "15 kV class",
        "provenance": "published",
        "note": "",
    }
