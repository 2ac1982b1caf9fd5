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

# What is recorded before and after the tablet's clock is set by *by* ms, and once the
# server has said the time; *first*: what comes first after the clock is set.
SET = """async ({ by, first }) => {
  const { keepSetting } = await import("/static/field/kept/settings.js");
  keepSetting("clock", 0);
  const { Clock } = await import("/static/field/clock.js");
  const clock = new Clock();
  const right = Date.now;
  const before = Date.parse(clock.stamp());
  try {
    Date.now = () => right() + by;
    if (first === "server") clock.hear(new Date(right()).toISOString(), Date.now());
    const after = Date.parse(clock.stamp());
    const [words, offset] = [clock.words(), clock.offsetMs];
    clock.hear(new Date(right()).toISOString(), Date.now());
    const heard = Date.parse(clock.stamp());
    const said = clock.words();
    return { moved: after - before, words, offset, heard: heard - right(), said };
  } finally {
    Date.now = right;
  }
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


def test_a_clock_put_back_while_the_page_is_open_goes_on_from_the_time_before(
    rule_reader: Page,
) -> None:
    found = rule_reader.evaluate(SET, {"by": -24 * HOUR_MS, "first": "record"})
    assert 0 < found["moved"] < 2000
    assert abs(found["offset"] - 24 * HOUR_MS) < 2000
    assert found["words"] == (
        "This tablet's clock was put back by 1440 minutes; what is recorded here goes "
        "on from the time before, until the server is heard."
    )
    assert abs(found["heard"]) < 2000


def test_a_clock_put_forward_is_set_by_the_server_alone(rule_reader: Page) -> None:
    """It cannot be told from a tablet that slept."""
    found = rule_reader.evaluate(SET, {"by": HOUR_MS, "first": "record"})
    assert abs(found["moved"] - HOUR_MS) < 2000
    assert found["words"] is None
    assert abs(found["heard"]) < 2000
    assert "60 minutes ahead of" in found["said"]


def test_a_clock_that_was_put_back_is_set_once(rule_reader: Page) -> None:
    """Where the server is heard before anything is recorded."""
    found = rule_reader.evaluate(SET, {"by": -24 * HOUR_MS, "first": "server"})
    assert 0 < found["moved"] < 2000
    assert abs(found["offset"] - 24 * HOUR_MS) < 2000
    assert "1440 minutes behind" in found["words"]


# Two entries, the tablet's clock set by *by* ms between them; *closed*: the page is
# closed meanwhile. Returns the order and the times in which they are sent.
RECORDED = """async ({ by, closed }) => {
  const { keepSetting } = await import("/static/field/kept/settings.js");
  keepSetting("clock", 0);
  const { Clock } = await import("/static/field/clock.js");
  const { Outbox } = await import("/static/field/outbox.js");
  const held = new Map();
  const keep = {
    name: crypto.randomUUID(),
    all: (start) => new Map([...held].filter(([name]) => name.startsWith(start))),
    read: (name) => held.get(name),
    write: (name, value) => held.set(name, value),
    drop: (name) => held.delete(name),
    listen() {},
  };
  const urls = { csrf: "/no-signal", entries: "/no-signal" };
  const sender = { urls, left: () => ({}) };
  const opened = () => new Outbox(keep, sender, new Clock(), () => {}, () => {});
  const right = Date.now;
  let outbox = opened();
  outbox.add({ kind: "note", text: "first" }, { kind: "note", text: "second" });
  try {
    Date.now = () => right() + by;
    if (closed) outbox = opened();
    outbox.add({ kind: "note", text: "third" });
    const sent = outbox.entries;
    return {
      texts: sent.map((one) => one.text),
      after: Date.parse(sent[2]?.at) - Date.parse(sent[1]?.at),
      words: outbox.clock.words(),
    };
  } finally {
    Date.now = right;
  }
}"""


@pytest.mark.parametrize("closed", [False, True], ids=["open", "closed meanwhile"])
@pytest.mark.parametrize("by", [-24 * HOUR_MS, 24 * HOUR_MS], ids=["back", "forward"])
def test_a_clock_that_jumps_by_a_day_leaves_the_order_of_what_is_recorded(
    rule_reader: Page, by: int, closed: bool
) -> None:
    found = rule_reader.evaluate(RECORDED, {"by": by, "closed": closed})
    assert found["texts"] == ["first", "second", "third"]
    if by < 0:
        assert 0 < found["after"] < 2000
        assert "was put back by 1440 minutes" in found["words"]
    else:
        assert abs(found["after"] - by) < 2000  # as after a night's sleep
