"""What people write is shown as they wrote it, and does nothing."""

from collections.abc import Callable
from html import escape

from tests.giving import give
from tests.scenario import CR, LEAD, OTHER_LEAD, TECHNICIAN, lineup_id
from tests.webapp.desk import Desk, Page

DeskAt = Callable[[str], Desk]
WRITTEN = '</script><script>alert("1")</script><img src=x onerror=alert(1)>{{7*7}}'
ACTING = ("<script>alert", "<img src=x")


def written_everywhere(desk: Desk) -> tuple[list[str], list[str]]:
    """Write it wherever one can; return the pages that show it, and others."""
    with desk.work() as work:
        card = work.card("breaker 52", CR)
        first, _, outside = work.read("breaker 52", CR, "38.6", "39.4", "72.0")
        work.again("breaker 52", CR, first, "38.7", reason=WRITTEN)
        work.dispose(outside, by=LEAD)
        found = work.entry(
            card, "deficiency", text=WRITTEN, holder=WRITTEN, severity="stops_turnover"
        )
        refusal = work.line(card, "T2", state="not_applicable", reason=WRITTEN)
        work.store(found, refusal, work.entry(card, "note", text=WRITTEN))
        given = give(
            work.session,
            at=work.tick(),
            document=WRITTEN,
            edition=WRITTEN,
            clause=WRITTEN,
            reason=WRITTEN,
        )
        round_page = f"/turnover/rounds/{work.round_id}"
        shown = [
            round_page,
            f"/turnover/cards/{card.id}",
            f"/turnover/deficiencies/{found['key']}",
            f"/turnover/criteria/{given}",
            f"/turnover/lineups/{lineup_id()}/criteria",
        ]
        others = [
            "/turnover/",
            f"{round_page}/cards",
            f"{round_page}/package",
            f"{round_page}/safety",
            f"/turnover/readings/{outside}/dispose",
            f"/field/rounds/{work.round_id}/",
        ]
    return shown, others


def test_it_is_text_on_every_page(desk_at: DeskAt) -> None:
    desk = desk_at("confirmed")
    shown, others = written_everywhere(desk)
    for who in (TECHNICIAN, LEAD):
        visitor = desk.person(who)
        for path in shown + others:
            page = visitor.get(path)
            assert page.status == 200, path
            assert not any(words in page.html for words in ACTING), path
            if path in shown:
                assert "{{7*7}}" in page.text, path
                assert escape(WRITTEN, quote=False).split('"')[0] in page.html, path


def test_it_comes_back_as_text_in_a_form(desk_at: DeskAt) -> None:
    desk = desk_at("confirmed")
    with desk.work() as work:
        *_, outside = work.read("breaker 52", CR, "38.6", "39.4", "72.0")
    path = f"/turnover/readings/{outside}/dispose"
    page: Page = desk.person(OTHER_LEAD).faulty(path, decision=WRITTEN, reason=WRITTEN)
    assert page.fields["reason"] == WRITTEN
    assert not any(words in page.html for words in ACTING)
