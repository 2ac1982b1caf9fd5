"""A round with many points, and the readings typed at them.

Relays that are timed at many multiples of their pickup: with few cards, since whoever
goes from one card to another gives the lines of its test anew.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from playwright.sync_api import Page, expect
from sqlalchemy.orm import Session

from models.judging import Accuracy, Rule
from models.judging import Reading as JudgedReading
from models.procedures import judge
from models.schema import Point
from models.schema.engine import make_engine
from tests.browser.conftest import calibrate_until_now
from tests.browser.crew import OPEN, AtWork
from tests.browser.give_lines import IN_HAND, give_all
from tests.scenario import RELAY, RT, build
from tests.shift import Shift

NO_TRIP = "no_trip"
RT_1 = Accuracy(pct=0.05, fixed=0.001, unit="s")  # as the scenario registers it
# How far a reading lies from the curve: within, near the edge of the band, and outside.
FACTORS = (1.0, 1.02, 0.98, 1.049, 0.949, 1.12, 0.8)
Between = tuple[datetime, datetime]
VERDICTS = """() => Object.fromEntries([...document.querySelectorAll(".point")]
  .filter((row) => row.querySelector(".typed") && row.querySelector(".verdict"))
  .map((row) => [row.ariaLabel.replace("Point ", ""),
    row.querySelector(".verdict").textContent]))"""
PLATE: dict[str, Any] = dict(RELAY[2])
TIME_DIAL, PICKUP_A = PLATE["time_dial"], PLATE["pickup_a"]


def curve_s(multiple: float) -> float:
    """Return the time of a very inverse relay. IEEE C37.112-1996, table 1."""
    return float(TIME_DIAL * (19.61 / (multiple**2 - 1) + 0.491))


@dataclass(frozen=True, slots=True)
class Typed:
    """A reading to be typed at a point, and the verdict that the core gives it."""

    card_id: UUID
    point_id: UUID
    label: str
    text: str
    unit: str | None
    verdict: str


@dataclass(frozen=True, slots=True)
class ManyPoints:
    """A round whose cards are open, and a reading for each of their points."""

    round_id: UUID
    readings: Sequence[Typed]


def many_points(
    database: str, relays: int, points_each: int, rng: random.Random
) -> ManyPoints:
    """Build the place and open a round: crew, clearance and cell stand."""
    multiples = [round(2 + 0.25 * n, 2) for n in range(points_each - 1)]
    found = [
        (RELAY[0], f"relay {n}", {**PLATE, "multiples": multiples})
        for n in range(1, relays + 1)
    ]
    engine = make_engine(database)
    with Session(engine, expire_on_commit=False) as session:
        build(session, found)
        calibrate_until_now(session)
        work = AtWork.now(session)
        Shift(work).open()
        readings = [
            made_up(point, rng)
            for _, label, _ in found
            for point in work.card(label, RT).points
        ]
        session.commit()
    engine.dispose()
    return ManyPoints(work.round_id, readings)


def made_up(point: Point, rng: random.Random) -> Typed:
    """Make up a reading at a point, and judge it by the core alone."""
    multiple = point.given["applied_a"] / PICKUP_A
    text, unit = NO_TRIP, None
    if multiple > 1:
        text, unit = f"{curve_s(multiple) * rng.choice(FACTORS):.3f}", "s"
    conditions: dict[str, Any] = point.given
    reading = JudgedReading(
        key="", text=text, unit=unit, accuracy=RT_1, conditions=conditions
    )
    (judged,) = judge([(Rule.from_json(point.rule), reading)])
    return Typed(point.card_id, point.id, point.label, text, unit, judged.verdict.value)


def type_readings(page: Page, rows: Sequence[Typed]) -> dict[UUID, Between]:
    """Type readings at the card that is open, as a hand does that goes down its points.

    Those that are recorded already are left. Returns between which times each was.
    """
    times: dict[UUID, Between] = {}
    for typed in rows:
        before = datetime.now(UTC)
        row = page.get_by_role("group", name=f"Point {typed.label}", exact=True)
        if typed is rows[0] and row.locator(".typed").count():
            continue  # recorded in the moment of a kill
        if typed.text == NO_TRIP:
            row.get_by_role("button", name="No trip").click()
            page.get_by_role("button", name=f"Record {typed.label}").click()
        else:
            if not times:
                row.get_by_label("Reading at").fill("")
            page.keyboard.insert_text(typed.text)
            page.keyboard.press("Enter")
        times[typed.point_id] = before, datetime.now(UTC)
    return times


def shown_verdicts(page: Page) -> dict[str, str]:
    """Return the verdict that each point of the card shows, by its label."""
    found: dict[str, str] = page.evaluate(VERDICTS)
    return found


def open_card(page: Page, card_id: UUID) -> None:
    """Go to a card on the page that is open; give the lines it asks."""
    page.goto(f"{page.url.split('#')[0]}#/cards/{card_id}")
    expect(page.locator("#card-title")).to_be_visible()
    if page.get_by_role("region", name=IN_HAND).count():
        give_all(page)
    expect(page.get_by_text(OPEN)).to_be_visible()
