"""The table of a lineup is described as the table of fields has it."""

from tests.docs.lineup_table import PAGE, page


def test_the_rows_of_the_page_are_those_of_the_fields() -> None:
    written = PAGE.read_text("utf-8")
    assert written == page(), "python -m tests.docs.lineup_table writes them"
