"""The tablet's clock as the server sets it, and what is said of a wrong one."""

from typing import Any

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

HOUR_MS = 3_600_000
# What an answer with this time of the server makes of the clock; it took *way* ms.
HEAR = """async ({ kept, server, way }) => {
  const { keepSetting, setting } = await import("/static/field/kept/settings.js");
  keepSetting("clock", kept);
  const { Clock } = await import("/static/field/clock.js");
  const clock = new Clock();
  const received = Date.now();
  const middle = received - way / 2;
  clock.hear(new Date(middle + server).toISOString(), received - way, received);
  const kept_ms = setting("clock");
  return { offset: clock.offsetMs, kept: kept_ms, words: clock.words() };
}"""
STAMPS = """async (server) => {
  const { keepSetting } = await import("/static/field/kept/settings.js");
  keepSetting("clock", 0);
  const { Clock } = await import("/static/field/clock.js");
  const clock = new Clock();
  const before = [clock.stamp(), clock.stamp()];
  clock.hear(new Date(Date.now() + server).toISOString(), Date.now());
  return [...before, clock.stamp(), clock.stamp()].map((at) => Date.parse(at));
}"""


@pytest.mark.parametrize(
    ("kept", "server", "way", "offset"),
    [
        pytest.param(0, 0, 40, 0, id="right"),
        pytest.param(0, 900, 40, 0, id="a little behind"),
        pytest.param(0, 1500, 40, 1500, id="behind"),
        pytest.param(0, -300, 40, -300, id="a little ahead"),
        pytest.param(0, -300, 4000, 0, id="within the doubt of a long way"),
        pytest.param(-61 * 60_000, 0, 40, 0, id="put right by hand since"),
    ],
)
def test_the_server_sets_the_clock(
    rule_reader: Page, kept: int, server: int, way: int, offset: int
) -> None:
    found = rule_reader.evaluate(HEAR, {"kept": kept, "server": server, "way": way})
    assert abs(found["offset"] - offset) <= 1
    assert found["kept"] == found["offset"]
    assert found["words"] is None


@pytest.mark.parametrize(
    ("server", "words"),
    [
        (-61 * 60_000, "61 minutes ahead of"),
        (5 * 60_000, "5 minutes behind"),
        (-110_000, None),
    ],
)
def test_a_wrong_clock_is_said(
    rule_reader: Page, server: int, words: str | None
) -> None:
    found: dict[str, Any] = rule_reader.evaluate(
        HEAR, {"kept": 0, "server": server, "way": 40}
    )
    said = words and (
        f"This tablet's clock is {words} the server's; "
        "what is recorded here carries the server's time."
    )
    assert found["words"] == said


def test_each_record_is_later_than_the_last_until_the_clock_is_put_right(
    rule_reader: Page,
) -> None:
    first, second, third, fourth = rule_reader.evaluate(STAMPS, -400)
    assert first < second < third < fourth
    first, second, third, fourth = rule_reader.evaluate(STAMPS, -HOUR_MS)
    assert first < second
    assert abs(third - (second - HOUR_MS)) < 2000
    assert third < fourth
