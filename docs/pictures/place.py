"""A made-up place with a card that is open for readings now, served for its picture.

The crew of the demo went home: its cards are closed, as they should be.
"""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

from sqlalchemy.orm import Session
from werkzeug.serving import make_server

from models.schema.engine import make_engine
from tests.browser.conftest import calibrate_until_now
from tests.browser.crew import AtWork
from tests.scenario import IR, SECRET, build
from webapp import create_app
from webapp.config import Config
from webapp.migrating import migrate


@contextmanager
def open_card() -> Iterator[str]:
    """Serve the place; give the address of the card."""
    with tempfile.TemporaryDirectory() as folder:
        database = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        migrate(database)
        way = _opened(database)
        app = create_app(Config(database=database, secret=SECRET))
        server = make_server("127.0.0.1", 0, app, threaded=True)
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}{way}"
        server.shutdown()
        app.extensions["engine"].dispose()


def _opened(database: str) -> str:
    engine = make_engine(database)
    with Session(engine, expire_on_commit=False) as session:
        build(session)
        calibrate_until_now(session)
        work = AtWork.now(session)
        work.read("bus", IR, "5.1", "5.2", "5.3")
        work.confirm("breaker 52", IR)
        session.commit()
        card, round_id = work.card("breaker 52", IR), work.round_id
    engine.dispose()
    return f"/field/rounds/{round_id}/#/cards/{card.id}"
