"""The page that compares relay settings says what differs, and keeps what was typed."""

from tests.webapp.desk import Page, Visitor


def test_it_shows_what_differs(reader: Visitor) -> None:
    issued, read = "51P1P = 5.3\n51P1C = U3", "51P1P = 5.4\n51P1C = U3"
    answer = Page(reader.post("/library/settings", issued=issued, read=read))
    assert answer.status == 200
    assert "1 of 2 settings differ" in answer.text
    assert "51P1P differs 5.3 5.4" in answer.text


def test_a_line_that_is_none_is_said_at_its_field(reader: Visitor) -> None:
    answer = reader.faulty("/library/settings", issued="a = 1", read="b")
    assert answer.faults == {"read": "Line 1 is no setting: write 'name = value'."}
    assert "a = 1" in answer.text
