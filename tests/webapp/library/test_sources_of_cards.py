"""On a card's page the source of a verdict leads to the table that it names."""

from tests.conftest import Stages
from tests.scenario import IR, LEAD
from tests.webapp.desk import Desk
from webapp.words.reading_globals import table_key


def test_a_verdict_leads_to_the_tables_that_it_rests_on(
    sqlite_stages: Stages,
) -> None:
    desk = Desk(sqlite_stages.fresh("complete"))
    with desk.work() as work:
        path = f"/turnover/cards/{work.card('breaker 52', IR).id}"
    reader = desk.person(LEAD)
    links = reader.get(path).links
    for key in ("insulation_minimum", "insulation_correction_20"):
        assert f"/library/tables/{key}" in links
        assert reader.get(f"/library/tables/{key}").status == 200
    desk.close()


def test_a_source_without_a_table_leads_nowhere() -> None:
    maker = {
        "document": "Maker's data for this apparatus",
        "edition": "",
        "table": "",
        "row": "",
        "provenance": "maker",
        "note": "",
    }
    assert table_key(maker) is None
