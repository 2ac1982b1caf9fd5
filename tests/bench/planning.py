"""The page of a plan of forty cells: queries and seconds, as of a list."""

import tempfile
from collections.abc import Iterator
from pathlib import Path
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.schema import Apparatus, Cell, Lineup
from models.schema.engine import make_engine
from models.services.planning.draft import begin_plan
from tests.bench.asking import patched, sign_in
from tests.bench.large import quick_secrets
from tests.bench.lists import asked
from tests.bench.measure import Measured
from tests.scenario import (
    APPARATUS,
    BEGAN,
    LEAD,
    PASSWORD,
    build,
    fixed_id,
    lineup_id,
)
from webapp.migrating import migrate

CELLS = 40


def run() -> list[Measured]:
    """Measure the plan of a new lineup, and the page that asks for editions."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{(Path(folder) / 'witnessmark.sqlite').as_posix()}"
        migrate(url)
        engine = make_engine(url)
        with Session(engine) as session:
            plan_id = _filled(session)
            session.commit()
        engine.dispose()
        return list(_measured(folder, url, plan_id))


def _filled(session: Session) -> UUID:
    with quick_secrets():
        build(session)
    lineup = session.get_one(Lineup, lineup_id())
    first = lineup.cells[0]
    for n in range(2, CELLS + 1):
        cell = Cell(
            id=fixed_id(f"cell {n}"),
            lineup_id=lineup.id,
            position=n,
            number=str(n),
            name=f"Feeder {n}",
            kind=first.kind,
            bus=first.bus,
        )
        session.add(cell)
        session.flush()
        session.add_all(_fitted(lineup.site_id, cell.id, n))
    session.flush()
    return begin_plan(
        session,
        person_id=LEAD.id,
        lineup_id=lineup_id(),
        kind="acceptance",
        programme="Acceptance, draw-out breakers",
        now=BEGAN,
        new_id=uuid4,
    )


def _fitted(site_id: UUID, cell_id: UUID, n: int) -> Iterator[Apparatus]:
    """Yield what is in a cell; every relay has a pickup of its own."""
    for position, (kind, label, plate) in enumerate(APPARATUS, start=1):
        own = {"pickup_a": 400.0 + n} if kind == "relay" else {}
        yield Apparatus(
            id=fixed_id(f"{label} {n}"),
            site_id=site_id,
            cell_id=cell_id,
            position=position,
            kind=kind,
            label=f"{label}-{n}",
            nameplate={**plate, **own},
        )


def _measured(folder: str, url: str, plan_id: UUID) -> Iterator[Measured]:
    with patched({"WITNESSMARK_INSTANCE": folder, "WITNESSMARK_DATABASE": url}):
        from webapp import create_app
        from webapp.config import load_config

        app = create_app(load_config())
        with app.test_client() as client:
            sign_in(client, LEAD.sign_in, PASSWORD)
            for what in ("", "/editions"):
                seconds, queries = asked(app, client, f"/planning/{plan_id}{what}")
                yield Measured(
                    bench="planning",
                    what=f"plan{what.replace('/', ', ')}: {queries} queries",
                    seconds=seconds,
                    against=f"{CELLS} cells, 360 cards",
                    wanted="at most 0.4 s",
                )
        app.extensions["engine"].dispose()
