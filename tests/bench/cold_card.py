"""A card on a tablet without signal, in Chromium on a processor slowed four times."""

import statistics
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

from playwright.sync_api import BrowserContext, Page
from sqlalchemy.orm import Session
from werkzeug.serving import make_server

from models.schema.engine import make_engine
from tests.bench.measure import Measured
from tests.browser.chromium import chromium
from tests.browser.conftest import calibrate_until_now
from tests.browser.crew import AtWork, hold_program, sign_in
from tests.scenario import IR, SECRET, TECHNICIAN, build
from webapp import create_app
from webapp.config import Config
from webapp.migrating import migrate

TURNS = 15  # the median counts
SLOWED = 4
SIZE = {"width": 768, "height": 1024}
CARD_S, VERDICT_S = 0.3, 0.05
TYPED = [f"{n}.{n + 1}" for n in range(1, 9)]
SETTLED_MS = 1500  # nothing is asked of the page meanwhile: that would take its time
# Milliseconds from the navigation until a frame with the card's points has been drawn.
NOTE_OPENED = """new MutationObserver((_, watch) => {
  if (!document.querySelector('[role="group"][aria-label^="Point "]')) return;
  watch.disconnect();
  requestAnimationFrame(() => {
    const drawn = new MessageChannel();
    drawn.port1.onmessage = () => (window.openedMs = performance.now());
    drawn.port2.postMessage(null);
  });
}).observe(document, { childList: true, subtree: true });"""
# The same from a key until a frame with the verdict has been drawn.
VERDICT = """async ([label, texts]) => {
  const field = document.querySelector(`[aria-label="${label}"]`);
  const drawn = () => new Promise((done) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = done;
    port2.postMessage(null);
  }));
  const taken = [];
  for (const text of texts) {
    await drawn();
    const began = performance.now();
    field.value = text;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    await drawn();
    taken.push(performance.now() - began);
  }
  return taken;
}"""


def run() -> list[Measured]:
    """Open a card cold without signal; type values and wait for the verdict."""
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        url = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        with (
            _served(url) as (address, card),
            browser.new_context(
                base_url=address, viewport=SIZE, has_touch=True
            ) as context,
        ):
            return [*_measured(context, card)]


def _measured(context: BrowserContext, card: str) -> Iterator[Measured]:
    context.add_init_script(NOTE_OPENED)
    page = context.new_page()
    sign_in(page, TECHNICIAN)
    page.goto(card)
    page.wait_for_function("() => window.openedMs")
    hold_program(page)
    page.wait_for_timeout(SETTLED_MS)
    context.set_offline(True)
    context.new_cdp_session(page).send(
        "Emulation.setCPUThrottlingRate", {"rate": SLOWED}
    )
    opened = [_opened_s(page, card) for _ in range(TURNS)]
    yield _line("open a card without signal", opened, CARD_S)
    typed = page.evaluate(VERDICT, ["Reading at A-G", TYPED])
    yield _line("verdict of a typed value", [ms / 1000 for ms in typed], VERDICT_S)


def _line(what: str, seconds: list[float], most_s: float) -> Measured:
    return Measured(
        bench="card",
        what=what,
        seconds=statistics.median(seconds),
        wanted=f"under {most_s:g} s",
    )


def _opened_s(page: Page, card: str) -> float:
    page.goto("about:blank")
    page.goto(card, wait_until="commit")
    page.wait_for_timeout(SETTLED_MS)
    page.wait_for_function("() => window.openedMs")
    return float(page.evaluate("window.openedMs")) / 1000


@contextmanager
def _served(url: str) -> Iterator[tuple[str, str]]:
    migrate(url)
    engine = make_engine(url)
    with Session(engine, expire_on_commit=False) as session:
        build(session)
        calibrate_until_now(session)
        work = AtWork.now(session)
        work.confirm("breaker 52", IR)
        session.commit()
        card_id = work.card("breaker 52", IR).id
        card = f"/field/rounds/{work.round_id}/#/cards/{card_id}"
    engine.dispose()
    app = create_app(Config(database=url, secret=SECRET))
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}", card
    server.shutdown()
    thread.join()
    app.extensions["engine"].dispose()
