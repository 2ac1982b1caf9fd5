"""The gate: what it says, and that every line leads somewhere."""

from collections.abc import Callable

import pytest

from models.services.turnover.gate import Gate
from models.services.turnover.gate_lines import GateItem, GateLine
from models.services.turnover.seals_wanted import Seals
from tests.scenario import CR, LEAD, OWNER, SECOND, TECHNICIAN, Cast, Work, fixed_id
from tests.webapp.desk import Desk
from tests.webapp.turnover.troubled import Troubled, out_of_calibration, trouble
from webapp.turnover.gate_words import headline

DeskAt = Callable[[str], Desk]


def rejected(work: Work) -> None:
    made = trouble(work)
    work.dispose(made.outside, "reject")


def half_sealed(work: Work) -> None:
    work.hand_over("bus", CR, SECOND)
    work.seal(TECHNICIAN, "performed")


def approved(work: Work) -> None:
    work.turn_over(accept=False)


def superseded(work: Work) -> None:
    made = trouble(work)
    work.again("breaker 52", CR, made.outside, "39.1")


def untouched(_: Work) -> None:
    """Leave the round as it is."""


SITUATIONS: dict[str, tuple[str, Callable[[Work], object], Cast]] = {
    "nothing done": ("opened", untouched, LEAD),
    "something of every kind": ("opened", trouble, LEAD),
    "the same, for a technician": ("opened", trouble, TECHNICIAN),
    "an instrument out of calibration": ("opened", out_of_calibration, LEAD),
    "a rejected reading": ("opened", rejected, LEAD),
    "a superseded reading": ("opened", superseded, LEAD),
    "only signatures missing": ("complete", untouched, TECHNICIAN),
    "one signature of two": ("complete", half_sealed, LEAD),
    "approved": ("complete", approved, OWNER),
    "accepted": ("accepted", untouched, LEAD),
}


@pytest.mark.parametrize(("stage", "act", "who"), SITUATIONS.values(), ids=SITUATIONS)
def test_every_link_of_the_gate_leads_to_a_page(
    desk_at: DeskAt, stage: str, act: Callable[[Work], object], who: Cast
) -> None:
    desk = desk_at(stage)
    with desk.work() as work:
        act(work)
        round_id = work.round_id
    visitor = desk.person(who)
    links = visitor.get(f"/turnover/rounds/{round_id}").links
    inside = {link.partition("#")[0] for link in links if "turnover" in link}
    assert len(inside) >= 3
    answers = {
        link: visitor.client.get(link, follow_redirects=True).status_code
        for link in inside
    }
    assert set(answers.values()) == {200}, answers


def test_says_what_stands_in_the_way_and_where(desk: Desk, troubled: Troubled) -> None:
    page = desk.person(LEAD).get(f"/turnover/rounds/{troubled.round_id}")
    assert page.headline == (
        "Gate: five things stand between this round and its turnover"
    )
    for line in (
        "2 readings outside without a disposition",
        "1 reading marginal without a disposition",
        "1 card not signed as performed",
        "1 open deficiency that stops turnover",
    ):
        assert line in page.text
    assert f"/turnover/readings/{troubled.outside}/dispose" in page.links
    assert f"/turnover/deficiencies/{troubled.deficiency}" in page.links


def test_a_reading_out_of_calibration_stands_in_one_line(desk: Desk) -> None:
    with desk.work() as work:
        out_of_calibration(work)
        round_id = work.round_id
    page = desk.person(LEAD).get(f"/turnover/rounds/{round_id}")
    assert "9 readings with an instrument out of calibration" in page.text
    assert "unjudged without a disposition" not in page.text


def test_the_button_is_there_and_says_why_it_cannot_be_pressed(
    desk: Desk, troubled: Troubled
) -> None:
    page = desk.person(LEAD).get(f"/turnover/rounds/{troubled.round_id}")
    assert "disabled" in page.html.split("Approve turnover")[0][-120:]
    assert "You took readings or signed cards of this round" in page.text


def test_who_performed_is_asked_for_their_signature(desk_at: DeskAt) -> None:
    desk = desk_at("complete")
    with desk.work() as work:
        round_id = work.round_id
    page = desk.person(TECHNICIAN).get(f"/turnover/rounds/{round_id}")
    assert page.headline == "Gate: nothing is left but signatures: yours is the next"
    assert "Sign as performed" in page.text


def test_an_owner_sees_a_round_only_once_it_is_turned_over(desk_at: DeskAt) -> None:
    desk = desk_at("complete")
    with desk.work() as work:
        path = f"/turnover/rounds/{work.round_id}"
    assert desk.person(OWNER).get(path).status == 404
    with desk.work() as work:
        approved(work)
    assert desk.person(OWNER).get(path).headline == (
        "Acceptance round 1 is turned over"
    )


def lines(*marks: str) -> list[GateLine]:
    item = GateItem(
        text="", detail="", action="", target_kind="card", target_id=fixed_id("card")
    )
    return [GateLine(code=m, mark=m, text=m, items=[item]) for m in marks]


HEADLINES = {
    "one": (1, False, False, "One thing stands between this round and its turnover"),
    "all kinds": (
        9,
        False,
        False,
        "Nine things stand between this round and its turnover",
    ),
    "signatures of others": (1, True, False, "Nothing is left but signatures"),
    "none": (0, True, False, "Nothing stands between this round and its turnover"),
}


@pytest.mark.parametrize(
    ("count", "ready", "may_sign", "said"), HEADLINES.values(), ids=HEADLINES
)
def test_the_headline_counts(
    count: int, ready: bool, may_sign: bool, said: str
) -> None:
    found = Gate(
        round_id=fixed_id("round"),
        title="Acceptance round 1",
        state="open",
        still=lines(*"abcdefghi"[:count]),
        settled=[],
        counts={},
        things=count,
        ready=ready,
        may_sign=may_sign,
        may_approve=False,
        why_not="",
        seals=Seals(
            performers=[], missing=[], waived=[], content={}, digest="", package=None
        ),
    )
    assert headline(found) == said
