"""A time of day as it is typed on the tablet: which moment is meant; spans in words."""

from typing import Any

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

CLOCK = "/static/field/safety_card/site_clock.js"
ASK = """async ([module, name, asked]) => {
    const found = await import(module);
    return asked.map((one) => found[name](...one)); }"""
LISBON, BERLIN = "Europe/Lisbon", "Europe/Berlin"

# name: typed, now, zone of the site, the moment that is meant
MOMENTS = {
    "earlier today": ("09:12", "2026-11-30T09:40:20Z", LISBON, "2026-11-30T09:12"),
    "without a colon": ("0912", "2026-11-30T09:40:20Z", LISBON, "2026-11-30T09:12"),
    "one figure": ("9.12", "2026-11-30T09:40:20Z", LISBON, "2026-11-30T09:12"),
    "zone of the site": ("10:12", "2026-11-30T09:40:20Z", BERLIN, "2026-11-30T09:12"),
    "summer": ("10:12", "2026-07-30T09:40:20Z", LISBON, "2026-07-30T09:12"),
    "before midnight": ("23:50", "2026-12-01T00:10:00Z", LISBON, "2026-11-30T23:50"),
    "begin of the shift": ("06:00", "2026-11-30T19:30:00Z", LISBON, "2026-11-30T06:00"),
    "no time": ("25:00", "2026-11-30T09:40:20Z", LISBON, None),
    "words": ("noon", "2026-11-30T09:40:20Z", LISBON, None),
}
ENDS = {
    "a long day": ("20:00", "2026-11-30T06:30:00Z", LISBON, "2026-11-30T20:00"),
    "a night": ("06:00", "2026-11-30T19:00:00Z", LISBON, "2026-12-01T06:00"),
}
SPANS = {0: "0:00", 59.2: "1:00", 240: "4:00", 3840: "1:04:00", -3: "0:00"}


def answers(page: Page, name: str, asked: list[list[Any]]) -> Any:
    return page.evaluate(ASK, [CLOCK, name, asked])


@pytest.mark.parametrize(
    ("name", "cases"), [("momentOf", MOMENTS), ("endOf", ENDS)], ids=["done", "ends"]
)
def test_a_time_of_day_is_the_one_that_is_near(
    rule_reader: Page, name: str, cases: dict[str, tuple[str, str, str, str | None]]
) -> None:
    parsed = "(texts) => texts.map((text) => Date.parse(text))"
    times = rule_reader.evaluate(parsed, [now for _, now, _, _ in cases.values()])
    asked = [
        [typed, ms, zone]
        for (typed, _, zone, _), ms in zip(cases.values(), times, strict=True)
    ]
    meant = [one and one[:16] for one in answers(rule_reader, name, asked)]
    wanted = {case: last for case, (*_, last) in cases.items()}
    assert dict(zip(cases, meant, strict=True)) == wanted


def test_a_span_is_said_in_minutes_and_seconds(rule_reader: Page) -> None:
    found = answers(rule_reader, "spanWords", [[one] for one in SPANS])
    assert found == list(SPANS.values())
