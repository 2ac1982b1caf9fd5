"""How the installation stands: computed, or not shown."""

from collections.abc import Callable

import pytest
from click.testing import CliRunner

from tests.scenario import ADMINISTRATOR, CR, LEAD, TECHNICIAN
from tests.webapp.desk import Desk
from webapp.cli import main
from webapp.last_check import LastCheck, keep_last_check, last_check
from webapp.start.installation_routes import size

DeskAt = Callable[[str], Desk]
PAGE = "/start/installation"
SIZES = {
    0: "0 bytes",
    999: "999 bytes",
    1000: "1.0 kB",
    9_940: "9.9 kB",
    412_345: "412 kB",
    3_400_000_000: "3.4 GB",
    7_000_000_000_000_000: "7000 TB",
}


@pytest.mark.parametrize(("count", "said"), SIZES.items(), ids=map(str, SIZES))
def test_sizes(count: int, said: str) -> None:
    assert size(count) == said.replace(" ", "\u00a0")


@pytest.fixture(autouse=True)
def _own_folder(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path_factory.mktemp("instance")
    monkeypatch.setenv("WITNESSMARK_INSTANCE", str(folder))


def test_it_is_for_the_administrator(desk_at: DeskAt) -> None:
    desk = desk_at("place")
    for who in (LEAD, TECHNICIAN):
        assert desk.person(who).get(PAGE).status == 403
    visitor = desk.person(ADMINISTRATOR)
    page = visitor.get(PAGE)
    assert page.status == 200
    assert PAGE in page.links
    assert "No check is known" in page.text
    assert "No reading has come from a tablet yet" in page.text


def test_what_a_check_found_is_shown(
    desk_at: DeskAt, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_at("confirmed")
    with desk.work() as work:
        work.read("breaker 52", CR, "41")
    url = desk.app.extensions["engine"].url.render_as_string(hide_password=False)
    monkeypatch.setenv("WITNESSMARK_DATABASE", url)
    assert CliRunner().invoke(main, ["check"]).exit_code == 0
    page = desk.person(ADMINISTRATOR).get(PAGE)
    assert "The last check found no fault" in page.text
    assert "; none since then" in page.text
    assert TECHNICIAN.name in page.text  # whose tablet the reading came from
    found = last_check()
    assert found is not None
    assert found.head in page.text


def test_faults_are_said(desk_at: DeskAt) -> None:
    keep_last_check(
        LastCheck(
            at="2026-03-03T00:00:00Z", entries=1, head="", faults=2, with_files=True
        )
    )
    page = desk_at("place").person(ADMINISTRATOR).get(PAGE)
    assert "The last check found 2 faults" in page.text
