"""A day without signal: killed browsers and servers, a cut network; nothing is lost."""

import io
import random
import re
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from itertools import groupby, pairwise
from operator import attrgetter
from pathlib import Path
from uuid import UUID

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Attachment, Reading
from models.schema.engine import make_engine
from tests.browser.crew import hold_program, sign_in
from tests.browser.cut_line import Line, line_to
from tests.browser.many_points import (
    Between,
    ManyPoints,
    many_points,
    open_card,
    shown_verdicts,
    type_readings,
)
from tests.browser.served_process import ServedProcess, served_process
from tests.browser.tablet import kill, let_open_without_signal, tablet, unlock
from tests.laws import THOROUGH
from tests.scenario import TECHNICIAN

pytestmark = pytest.mark.browser

RELAYS, POINTS_EACH, PHOTOGRAPHS = (10, 20, 20) if THOROUGH else (2, 20, 4)
READINGS = RELAYS * POINTS_EACH
APIECE = POINTS_EACH // 2 - 1  # readings between two photographs
CUTS, SERVER_KILLS, BROWSER_KILLS = 10, 2, 2
SEEDS = (20261130, 7, 41) if THOROUGH else (20261130,)
KEPT = re.compile(r"(\d+) entr(?:y|ies)")
ALL_SENT = "Everything is recorded"
LONGEST_MS = 120_000  # the tablet tries again after a minute at the latest
PICTURE = (1200, 900)  # of noise: a part of 256 kB does not hold it
BAND = 150  # px on the left in one colour, by which a picture is known again
FADED = 12  # of 255, by which JPEG may change that colour
SLACK = timedelta(seconds=2)  # between the tablet's corrected clock and this machine's
Colour = tuple[int, int, int]


class Day:
    """A technician with one tablet, from taking the round along until all is sent."""

    def __init__(
        self, browser: Browser, line: Line, profile: Path, points: ManyPoints, seed: int
    ) -> None:
        self.browser, self.line, self.profile = browser, line, profile
        self.points, self.rng = points, random.Random(seed)
        self.address = f"/field/rounds/{points.round_id}/"
        spread = READINGS // (BROWSER_KILLS + 1)
        self.kills = [
            self.rng.randrange(n * spread, (n + 1) * spread)
            for n in range(1, BROWSER_KILLS + 1)
        ]
        self.said = 0  # how many entries the page said that it keeps
        self.times: dict[UUID, Between] = {}
        self.colours: dict[str, Colour] = {}

    def take_along(self) -> None:
        """With signal: sign in, and take the round along."""
        with tablet(self.browser, self.line.url, self.profile) as context:
            page = context.pages[0]
            sign_in(page, TECHNICIAN)
            page.goto(self.address)
            hold_program(page)
            let_open_without_signal(page)
            page.get_by_role("button", name=re.compile("^Take along")).click()
            expect(page.get_by_text("is on this tablet as it is now")).to_be_visible()

    def work_until_killed(self) -> None:
        """Without signal: read up to each moment of chance, and be killed there."""
        for first, end in pairwise([0, *self.kills]):
            with self.opened() as page:
                self.read(page, first, end)
                self.said = kept_words(page)
                kill(self.profile)

    @contextmanager
    def opened(self) -> Iterator[Page]:
        """Open the tablet without signal; what it said it kept is there."""
        with tablet(self.browser, self.line.url, self.profile) as context:
            context.set_offline(True)
            page = context.pages[0]
            page.goto(self.address)
            unlock(page)
            expect(page.locator("#titleblock dl")).to_be_visible()
            assert kept_words(page) >= self.said
            yield page

    def read(self, page: Page, first: int, end: int | None = None) -> None:
        """Read some of the points; after each so many of them a photograph is taken."""
        # What was typed in the moment of a kill may have to be typed once more.
        rows = self.points.readings[max(first - 1, 0) : end]
        for card_id, of_card in groupby(rows, key=attrgetter("card_id")):
            every = list(of_card)
            open_card(page, card_id)
            for n in range(0, len(every), APIECE):
                self.times |= type_readings(page, every[n : n + APIECE])
                if len(self.colours) < PHOTOGRAPHS:
                    self.photograph(page, f"Photograph {len(self.colours) + 1}")
            shown = shown_verdicts(page)
            assert {one.label: shown.get(one.label) for one in every} == {
                one.label: one.verdict for one in every
            }

    def photograph(self, page: Page, name: str) -> None:
        """Choose a picture, say what it shows, keep it."""
        colour = (self.rng.randrange(256), self.rng.randrange(256), 60)
        page.get_by_label("Choose a picture").set_input_files(
            {
                "name": f"{name}.jpg",
                "mimeType": "image/jpeg",
                "buffer": picture(colour, self.rng),
            }
        )
        page.get_by_label("What it shows").fill(name)
        page.get_by_role("button", name="Keep photograph").click()
        panel = page.get_by_role("region", name="Photographs and files")
        expect(panel.get_by_text(name, exact=True)).to_be_visible()
        self.colours[name] = colour


def picture(colour: Colour, rng: random.Random) -> bytes:
    """Return a JPEG of noise with a band in a colour of its own."""
    width, height = PICTURE
    noise = Image.frombytes("RGB", PICTURE, rng.randbytes(3 * width * height))
    noise.paste(colour, (0, 0, BAND, height))
    target = io.BytesIO()
    noise.save(target, "JPEG", quality=80)
    return target.getvalue()


def kept_words(page: Page) -> int:
    """Return how many entries the page says it keeps."""
    found = KEPT.search(page.locator("#signal").inner_text())
    return int(found[1]) if found else 0


def send(page: Page, line: Line, server: ServedProcess, rng: random.Random) -> None:
    """Give the tablet signal, and break what it sends again and again."""
    breaks = ["cut"] * CUTS + ["kill"] * SERVER_KILLS
    rng.shuffle(breaks)
    most = [40_000 if n < 4 else PHOTOGRAPHS * 80_000 for n in range(len(breaks))]
    for how, bytes_at_most in zip(breaks, most, strict=True):
        kill_server = server.kill if how == "kill" else None
        line.break_after(rng.randrange(200, bytes_at_most), kill_server)
        with_signal(page, line)
        while not line.broke.wait(0.01):
            page.wait_for_timeout(20)
        page.context.set_offline(True)
        line.cut()
        page.wait_for_timeout(rng.uniform(0, 300))
        if kill_server:
            server.start()
    assert page.locator("#signal").inner_text() != ALL_SENT  # it broke on the way
    with_signal(page, line)
    expect(page.locator("#signal")).to_have_text(ALL_SENT, timeout=LONGEST_MS)


def with_signal(page: Page, line: Line) -> None:
    """Give the tablet signal."""
    line.mend()
    page.context.set_offline(False)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_day_of_kills_and_cuts_arrives_once_and_whole(
    browser: Browser, sqlite_url: str, tmp_path: Path, seed: int
) -> None:
    points = many_points(sqlite_url, RELAYS, POINTS_EACH, random.Random(seed))
    with (
        served_process(sqlite_url, tmp_path) as server,
        line_to(server.port) as line,
    ):
        day = Day(browser, line, tmp_path / "profile", points, seed)
        day.take_along()
        line.cut()
        day.work_until_killed()
        with day.opened() as page:
            day.read(page, day.kills[-1])
            send(page, line, server, random.Random(seed))
            check_photographs(page, sqlite_url, day)
        check_readings(sqlite_url, day)
        checked = server.check()
        assert checked.returncode == 0, checked.stdout + checked.stderr


def check_readings(database: str, day: Day) -> None:
    """Each reading is there once, by whom, when, and judged as the core judges it."""
    engine = make_engine(database)
    with Session(engine) as session:
        rows = session.scalars(select(Reading)).all()
        found = [
            (one.point_id, one.text, one.unit, one.judgement.verdict) for one in rows
        ]
        wanted = [
            (one.point_id, one.text, one.unit, one.verdict)
            for one in day.points.readings
        ]
        assert len(wanted) == READINGS
        assert Counter(found) == Counter(wanted)
        assert {one.by_id for one in rows} == {TECHNICIAN.id}
        for one in rows:
            before, after = day.times[one.point_id]
            assert before - SLACK <= one.taken_at <= after + SLACK
    engine.dispose()


def check_photographs(page: Page, database: str, day: Day) -> None:
    """Each photograph is there once, and is the picture that was taken."""
    engine = make_engine(database)
    with Session(engine) as session:
        found = session.scalars(select(Attachment)).all()
        rows = {one.note.split(" · ")[0]: one for one in found}
        assert len(found) == len(rows) == PHOTOGRAPHS
        assert rows.keys() == day.colours.keys()
        assert {one.by_id for one in found} == {TECHNICIAN.id}
        for name, one in rows.items():
            body = page.request.get(f"/files/{one.id}").body()
            image = Image.open(io.BytesIO(body)).convert("RGB")
            assert image.size == PICTURE
            seen = image.crop((0, 0, BAND // 2, PICTURE[1])).resize((1, 1)).tobytes()
            parts = zip(seen, day.colours[name], strict=True)
            assert all(abs(one - other) < FADED for one, other in parts)
    engine.dispose()
