"""The page on the lines of safety is what the files of the lines say."""

from tests.docs.safety_lines import PAGE, page


def test_the_tables_of_the_page_are_those_of_the_files() -> None:
    written = PAGE.read_text("utf-8")
    assert written == page(), "python -m tests.docs.safety_lines writes them"
