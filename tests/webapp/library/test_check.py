"""Checking a table on its page: seen before it is stored, kept when it is wrong."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from sqlalchemy.orm import Session

from models.criteria.loader import table_files
from tests.conftest import Stages
from tests.scenario import LEAD, OTHER_LEAD, OWNER, STRANGER, TECHNICIAN, TEST_FIRM
from tests.table_checking import act, check_rows
from tests.webapp.desk import Desk, Page, Visitor

PRESSURE, FACTORS, MINIMUM = (
    "vacuum_pressure",
    "insulation_correction_20",
    "insulation_minimum",
)
TOLERANCE = "relay_tolerance"
AT = "/library/tables"
MARK = "mark-memory"


@pytest.fixture
def desk(sqlite_stages: Stages) -> Iterator[Desk]:
    """The application before any round, on a database that may be written to."""
    desk = Desk(sqlite_stages.fresh("place"))
    yield desk
    desk.close()


@pytest.fixture
def lead(desk: Desk) -> Visitor:
    return desk.person(LEAD)


@contextmanager
def written(desk: Desk) -> Iterator[Session]:
    """Let somebody act through the services."""
    with Session(desk.app.extensions["engine"]) as session:
        yield session
        session.commit()


def digest(table: str, row: str) -> dict[str, str]:
    one = act(table, row)
    return {f"digest_{one.number}": one.digest}


def on_pressure(**fields: str) -> dict[str, str]:
    return {**digest(PRESSURE, "residual pressure"), "edition": "2023", **fields}


def reviewed(visitor: Visitor, table: str, **fields: str) -> Page:
    page = Page(visitor.post(f"{AT}/{table}/check", step="review", **fields))
    assert page.status == 200, page.text
    return page


def stored(visitor: Visitor, table: str, review: Page) -> Page:
    """Send the review on, as the button does."""
    fields = {n: v for n, v in review.fields.items() if n != "csrf_token"}
    return visitor.follow(
        visitor.post(f"{AT}/{table}/check", **{**fields, "step": "store"})
    )


def test_nothing_is_stored_before_it_was_seen(lead: Visitor) -> None:
    review = reviewed(lead, PRESSURE, **on_pressure(act_0="confirmed"))
    assert "This will be stored" in review.headline
    assert "1 row, checked by Otto Heron for Fathom Line Testing" in review.text
    before = lead.get(f"{AT}/{PRESSURE}")
    assert "0 of 1 row checked by Fathom Line Testing" in before.text
    assert MARK in before.html
    after = stored(lead, PRESSURE, review)
    assert "1 row is checked." in after.text
    assert "1 of 1 row checked by Fathom Line Testing" in after.text
    assert MARK not in after.html
    assert "confirmed against a licensed copy" in after.text
    assert "compared with edition 2023, by Otto Heron" in after.text


def test_a_correction_shows_both_figures_and_why(lead: Visitor) -> None:
    fields = on_pressure(act_0="corrected", figure_0_limit_pa="0.02", reason_0="so")
    review = reviewed(lead, PRESSURE, **fields)
    assert "At most 0.02 Pa in the place of 0.01 Pa (so)" in review.text
    after = stored(lead, PRESSURE, review)
    assert "corrected from a licensed copy" in after.text
    assert "0.02" in after.text
    assert "At most 0.02 Pa in the place of 0.01 Pa (so)" in after.text


def test_the_tick_confirms_what_is_left_and_nothing_else(
    desk: Desk, lead: Visitor
) -> None:
    with written(desk) as session:
        check_rows(session, LEAD, FACTORS, ["0 degC"])
    table_file = table_files()[FACTORS]
    fields = {}
    for row in table_file.rows:
        fields |= digest(FACTORS, row["row"])
    fields |= {"act_3": "corrected", "figure_3_oil": "0.37", "reason_3": "so printed"}
    review = reviewed(lead, FACTORS, edition="2023", all_rest="y", **fields)
    count = len(table_file.rows) - 1  # one was checked before
    assert f"{count} rows, checked by" in review.text
    assert "all_rest" not in review.fields
    after = stored(lead, FACTORS, review)
    assert (
        f"{len(table_file.rows)} of {len(table_file.rows)} rows checked" in after.text
    )
    assert MARK not in after.html


def test_what_was_typed_is_there_when_it_is_changed_first(lead: Visitor) -> None:
    fields = on_pressure(act_0="corrected", figure_0_limit_pa="0.02", reason_0="so")
    review = reviewed(lead, PRESSURE, **fields)
    hidden = {n: v for n, v in review.fields.items() if n != "csrf_token"}
    page = Page(lead.post(f"{AT}/{PRESSURE}/check", step="change", **hidden))
    assert page.fields["edition"] == "2023"
    assert page.fields["figure_0_limit_pa"] == "0.02"
    assert page.chosen["act_0"] == "corrected"


def test_a_fault_stands_at_its_row_and_what_was_typed_is_kept(lead: Visitor) -> None:
    page = lead.faulty(
        f"{AT}/{PRESSURE}/check",
        step="review",
        **on_pressure(edition="", act_0="corrected", figure_0_limit_pa="0,02"),
    )
    assert set(page.faults) == {"edition", "figure_0_limit_pa", "reason_0"}
    assert page.fields["figure_0_limit_pa"] == "0,02"
    assert page.chosen["act_0"] == "corrected"
    assert "<details open>" in page.html
    nothing = lead.faulty(f"{AT}/{PRESSURE}/check", step="review", **on_pressure())
    assert "No row was confirmed" in nothing.text


def test_a_row_whose_figure_moved_meanwhile_is_not_stored(lead: Visitor) -> None:
    fields = on_pressure(act_0="confirmed", digest_0="0" * 64)
    page = lead.faulty(f"{AT}/{PRESSURE}/check", step="store", **fields)
    assert "another figure" in page.faults["act_0"]
    # The page that says so carries today's row, so that it can be looked at again.
    assert page.fields["digest_0"] == act(PRESSURE, "residual pressure").digest


def test_what_is_sent_twice_is_stored_once(lead: Visitor) -> None:
    review = reviewed(lead, PRESSURE, **on_pressure(act_0="confirmed"))
    after = stored(lead, PRESSURE, review)
    assert "Every check so far: 1" in after.text
    fields = {n: v for n, v in review.fields.items() if n != "csrf_token"}
    page = lead.faulty(f"{AT}/{PRESSURE}/check", **{**fields, "step": "store"})
    assert page.faults["act_0"].endswith(f"checked since by {LEAD.name}: look again.")
    assert "Every check so far: 1" in lead.get(f"{AT}/{PRESSURE}").text


def test_a_check_that_came_between_is_shown_before_it_is_superseded(
    desk: Desk, lead: Visitor
) -> None:
    review = reviewed(lead, PRESSURE, **on_pressure(act_0="confirmed"))
    with written(desk) as session:
        corrected = {"residual pressure": {"limit_pa": "0.02"}}
        check_rows(session, OTHER_LEAD, PRESSURE, corrected=corrected)
    fields = {n: v for n, v in review.fields.items() if n != "csrf_token"}
    page = lead.faulty(f"{AT}/{PRESSURE}/check", **{**fields, "step": "store"})
    assert OTHER_LEAD.name in page.faults["act_0"]
    # The page that says so carries that check, so that it can be superseded knowingly.
    again = on_pressure(act_0="confirmed", before_0=page.fields["before_0"])
    assert "Every check so far: 2" in (
        stored(lead, PRESSURE, reviewed(lead, PRESSURE, **again)).text
    )


def test_after_a_withdrawal_a_row_can_be_checked_again(
    desk: Desk, lead: Visitor
) -> None:
    with written(desk) as session:
        check_rows(session, LEAD, PRESSURE)
        check_rows(session, LEAD, PRESSURE, withdrawn=["residual pressure"])
    before = lead.get(f"{AT}/{PRESSURE}/check").fields["before_0"]
    fields = on_pressure(act_0="confirmed", before_0=before)
    after = stored(lead, PRESSURE, reviewed(lead, PRESSURE, **fields))
    assert "1 of 1 row checked" in after.text


def test_a_check_can_be_withdrawn_and_the_history_stays(
    desk: Desk, lead: Visitor
) -> None:
    with written(desk) as session:
        check_rows(session, LEAD, PRESSURE)
    assert "Withdraw the check" in lead.get(f"{AT}/{PRESSURE}/check").text
    before = lead.get(f"{AT}/{PRESSURE}/check").fields["before_0"]
    fields = {"act_0": "withdrawn", "reason_0": "wrong page", "edition": ""}
    fields["before_0"] = before
    after = stored(lead, PRESSURE, reviewed(lead, PRESSURE, **on_pressure(**fields)))
    assert "0 of 1 row checked" in after.text
    assert "Every check so far: 2" in after.text
    assert "wrong page" in after.text
    assert MARK in after.html


def test_a_technician_reads_what_the_firm_checked(desk: Desk) -> None:
    with written(desk) as session:
        check_rows(session, LEAD, PRESSURE)
    technician = desk.person(TECHNICIAN)
    page = technician.get(f"{AT}/{PRESSURE}")
    assert f"1 of 1 row checked by {TEST_FIRM}" in page.text
    assert f"{AT}/{PRESSURE}/check" not in page.links
    assert technician.get(f"{AT}/{PRESSURE}/check").status == 403


def test_each_organisation_sees_its_own(desk: Desk) -> None:
    with written(desk) as session:
        check_rows(session, LEAD, PRESSURE)
    for who in (OWNER, STRANGER):
        page = desk.person(who).get(f"{AT}/{PRESSURE}")
        assert f"0 of 1 row checked by {who.firm}" in page.text
        assert LEAD.name not in page.text


def test_practice_offers_nothing_to_check(lead: Visitor) -> None:
    page = lead.get(f"{AT}/{TOLERANCE}")
    assert "No row of it is printed in a document" in page.text
    assert f"{AT}/{TOLERANCE}/check" not in page.links
    assert "No row of this table is printed" in lead.get(f"{AT}/{TOLERANCE}/check").text


def test_there_is_no_such_table(lead: Visitor) -> None:
    assert lead.get(f"{AT}/no_such/check").status == 404


def test_the_list_of_what_is_from_memory_shrinks(desk: Desk, lead: Visitor) -> None:
    def line() -> str:
        text = lead.get("/library/memory").text
        return text.partition("What still rests on memory ")[2].partition(" yet.")[0]

    before = line()
    with written(desk) as session:
        check_rows(session, LEAD, PRESSURE)
    left, all_of_it = (int(before.split()[n]) for n in (0, 2))
    assert left == all_of_it > 0
    assert line().startswith(f"{left - 1} of {all_of_it} figures")
    assert "1 checked" in lead.get("/library/memory").text


def test_what_would_be_required_takes_the_checked_figures(
    desk: Desk, lead: Visitor
) -> None:
    with written(desk) as session:
        corrected = {"15 kV class": {"minimum": "6000"}}
        check_rows(session, LEAD, MINIMUM, corrected=corrected)
    asked = "/library/required?gear=metal_clad&rated_kv=15&apparatus=bus"
    assert "at least 6.000 GΩ" in lead.get(asked).text.replace("\xa0", " ")
    assert "at least 5.000 GΩ" in desk.person(OWNER).get(asked).text.replace(
        "\xa0", " "
    )
    rule = lead.client.get(
        "/library/rule.json?procedure=insulation_resistance&rated_kv=15"
    )
    assert rule.get_json()["rule"]["bounds"][0]["value"] == 6000.0


def test_the_lists_of_tables_count_what_was_checked(desk: Desk, lead: Visitor) -> None:
    with written(desk) as session:
        check_rows(session, LEAD, PRESSURE)
    text = lead.get("/library/?q=residual+pressure").text
    assert "1 confirmed against a licensed copy" in text
