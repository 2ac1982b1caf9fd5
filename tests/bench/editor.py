"""The lineup editor in Chromium: how long an operation takes with forty cells."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

from playwright.sync_api import Browser, Page
from sqlalchemy.orm import Session
from werkzeug.serving import make_server

from models.record.lineup_draft import draft_json
from models.schema.engine import make_engine
from models.services.setup.starting_points import Answers, lay_out, rated_rows
from tests.bench.measure import Measured
from tests.browser.chromium import chromium
from tests.scenario import LEAD, PASSWORD, SECRET, SITE, build, fixed_id
from webapp import create_app
from webapp.config import Config
from webapp.migrating import migrate

CELLS = 40
TURNS = 15  # of each operation; the median counts
BUDGET_S = 0.1
# Until the browser has laid the page out again, in seconds, by operation.
TIMED = """async ([draft, turns]) => {
  const editor = document.getElementById("editor").editor;
  const { undo } = await import("/static/setup/history.js");
  const nothing = () => {};
  const add = () => editor.addCell("breaker", editor.chosen);
  const acts = {
    "choose a cell": [nothing, (n) => editor.choose(editor.draft.cells[n].key)],
    "move a cell": [nothing, () => editor.moveBy(1)],
    "add a cell": [nothing, add],
    "copy a cell": [nothing, () => editor.copyCell(1)],
    "remove a cell": [nothing, () => editor.remove()],
    "undo": [add, () => editor.travel(undo)],
    "type into a plate": [nothing, (n) => {
      const field = document.querySelector("#pane input[inputmode=decimal]");
      field.value = String(1000 + n);
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }],
  };
  const timed = {};
  for (const [name, [before, act]] of Object.entries(acts)) {
    const taken = [];
    for (let n = 0; n < turns; n += 1) {
      editor.begin(draft, "laying out");
      editor.choose(editor.draft.cells[20].key);
      before();
      const start = performance.now();
      act(n);
      document.body.getBoundingClientRect();
      taken.push((performance.now() - start) / 1000);
    }
    timed[name] = taken.toSorted((a, b) => a - b)[Math.floor(turns / 2)];
  }
  return timed;
}"""


def run() -> list[Measured]:
    """Do each operation on a lineup of forty cells."""
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        url = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        with _served(url) as address, _editor(browser, address) as page:
            timed = page.evaluate(TIMED, [_draft(), TURNS])
    return [
        Measured(
            bench="editor",
            what=f"{name}, {CELLS} cells",
            seconds=seconds,
            wanted=f"at most {BUDGET_S:g} s",
        )
        for name, seconds in timed.items()
    ]


def _draft() -> dict[str, object]:
    """Return a metal-clad lineup of forty cells."""
    row = rated_rows("metal_clad")[0].key
    answers = Answers(name="SG-40", row=row, rated_a="2000", repeated=str(CELLS - 3))
    return draft_json(lay_out("metal_clad_tie", answers))


@contextmanager
def _served(url: str) -> Iterator[str]:
    migrate(url)
    engine = make_engine(url)
    with Session(engine) as session:
        build(session)
        session.commit()
    engine.dispose()
    app = create_app(Config(database=url, secret=SECRET))
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    app.extensions["engine"].dispose()


@contextmanager
def _editor(browser: Browser, address: str) -> Iterator[Page]:
    """Open the editor of a new lineup, signed in."""
    with browser.new_context(base_url=address) as context:
        page = context.new_page()
        page.goto("/account/sign-in")
        page.get_by_label("Sign-in name").fill(LEAD.sign_in)
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        page.goto(f"/setup/sites/{fixed_id(SITE)}/lineups/new")
        page.wait_for_function("document.getElementById('editor').editor")
        yield page
