"""The page on the procedures is what their files and the tables say."""

from tests.docs.procedures_page import PAGE, page


def test_the_table_of_the_page_is_that_of_the_registry() -> None:
    written = PAGE.read_text("utf-8")
    assert written == page(), "python -m tests.docs.procedures_page writes it"
