"""A criteria table that is not in order is refused, with its place."""

from copy import deepcopy
from typing import Any

import pytest

from models.criteria.loader import read_table
from models.errors import CriteriaError
from models.judging import Criteria

ROW = {"row": "1 kV", "class_kv": 1.0, "provenance": "published", "source": "a page"}
SOUND: dict[str, Any] = {
    "key": "made_up",
    "document": "Made-up document",
    "edition": "2020",
    "table": "1",
    "unit": "MOhm",
    "row": [ROW, {**ROW, "row": "2 kV", "class_kv": 2.0}],
}


def test_a_sound_table_is_read() -> None:
    table = read_table("made_up.toml", SOUND)
    assert (table.key, table.edition, len(table.rows)) == ("made_up", "2020", 2)


@pytest.mark.parametrize(
    "field", ["key", "document", "edition", "table", "unit", "row"]
)
def test_a_missing_head_is_refused(field: str) -> None:
    data = {name: value for name, value in SOUND.items() if name != field}
    with pytest.raises(CriteriaError, match=rf"made_up\.toml: '{field}' is missing"):
        read_table("made_up.toml", data)


ROWS: dict[str, tuple[dict[str, Any], str]] = {
    "without a source": ({"source": ""}, "row 2: 'source' is missing"),
    "without a provenance": ({"provenance": ""}, "row 2: 'provenance' is missing"),
    "without a name": ({"row": ""}, "row 2: 'row' is missing"),
    "of unknown provenance": ({"provenance": "rumour"}, "'rumour' is none of"),
    "below the row before": ({"class_kv": 0.5}, "do not ascend by class_kv"),
    "like the row before": ({"class_kv": 1.0}, "do not ascend by class_kv"),
}


@pytest.mark.parametrize(("change", "said"), ROWS.values(), ids=ROWS)
def test_an_unsound_row_is_refused(change: dict[str, Any], said: str) -> None:
    data = deepcopy(SOUND)
    data["row"][1] |= change
    with pytest.raises(CriteriaError, match=said):
        read_table("made_up.toml", data)


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
