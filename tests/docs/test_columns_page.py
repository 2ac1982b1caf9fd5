"""The columns of a readings file are described as the table of fields has them."""

from tests.docs.columns_table import PAGE, parts_of, table_rows


def test_the_rows_of_the_page_are_those_of_the_fields() -> None:
    before, rows, _ = parts_of(PAGE.read_text("utf-8"))
    assert rows == table_rows(), "python -m tests.docs.columns_table writes them"
    assert all(f"| `{one}` |" in before for one in ("id", "test", "value", "unit"))
