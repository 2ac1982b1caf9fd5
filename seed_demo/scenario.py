"""The demo from its first site to its open rounds, played through the services."""

from collections.abc import Callable
from datetime import datetime, timedelta

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.files.store import FileStore
from models.schema import Organisation
from models.schema.engine import make_engine
from seed_demo import gt4_readings, inspections, moves, plans
from seed_demo import readings as shown
from seed_demo.checks import check_tables
from seed_demo.files import attach_certificates, attach_sketch
from seed_demo.given import add_given, adopt_suggestions
from seed_demo.instruments import add_instruments
from seed_demo.lineups import CONNECTED, GAS_INSULATED, METAL_CLAD, METAL_ENCLOSED
from seed_demo.people import PASSWORD
from seed_demo.photographs import attach_photographs
from seed_demo.player import Player
from seed_demo.site import add_lineups, add_people, add_site
from webapp.config import Config
from webapp.file_store import store_of

DAY, YEAR = timedelta(days=1), timedelta(days=365)
WITNESSED = ("bus A", shown.DW)
HELD = ("bus", shown.DW)
GAS_PROGRAMME = "Acceptance, gas-insulated"
DEFICIENT, JOINTED = shown.HALF_DONE_DEFICIENCY[0], ("bus", shown.CR)


def load_if_absent(
    config: Config, now: datetime, report: Callable[[str], object] = print
) -> bool:
    """Load the demo into an empty database; False when it is there already."""
    engine = make_engine(config.database)
    try:
        with Session(engine, expire_on_commit=False) as session:
            if session.scalars(select(Organisation)).first() is not None:
                return False
            report("Loading the demo (half a minute) ...")
            load(session, store_of(config), config.secret, now, report)
            session.commit()
        return True
    finally:
        engine.dispose()


def load(
    session: Session,
    store: FileStore,
    secret: str,
    now: datetime,
    report: Callable[[str], object],
    password: str = PASSWORD,
) -> None:
    """Build the scenario, ending at *now*."""
    first = _morning(now - 3 * YEAR)
    before = first - 40 * DAY
    add_site(session, secret, before)
    add_people(session, secret, password, before)
    add_lineups(session, before)
    add_instruments(session, range(first.year - 1, now.year + 1))
    report("  acceptance round of SG-1")
    adopt_suggestions(session, METAL_CLAD, first - 10 * DAY)
    accept(session, first, password)
    moves.lend_the_spare(session, now - 2 * YEAR - 60 * DAY)
    report("  first maintenance round")
    maintain(session, shown.FIRST_MAINTENANCE, _morning(now - 2 * YEAR), password)
    moves.put_it_in_the_tie(session, now - YEAR - 80 * DAY)
    report("  second maintenance round")
    maintain(
        session,
        shown.SECOND_MAINTENANCE,
        _morning(now - YEAR),
        password,
        plan=plans.SECOND_YEAR_OF_SG1,
        in_service=shown.IN_SERVICE,
    )
    check_tables(session, now - 20 * DAY)
    attach_certificates(session, store, now.year, now - 19 * DAY)
    report("  half-done round of GT-4, with all that is connected to it")
    begin_connected(session, _morning(now - 3 * DAY), password)
    report("  half-done round of LB-2, with what its project and maker give")
    add_given(session, now - DAY)
    begin(session, store, now - timedelta(hours=9), password)
    player = Player(
        session, GAS_INSULATED, "acceptance", now - timedelta(hours=3), password
    )
    player.open(plans.NOT_BEGUN)


def _morning(at: datetime) -> datetime:
    """Return eight in the morning at the site, when a shift begins."""
    return at.replace(hour=12, minute=0, second=0, microsecond=0)


def accept(session: Session, at: datetime, password: str) -> None:
    """Play the acceptance round of SG-1, a withstand test before the owner's eyes."""
    player = Player(session, METAL_CLAD, "acceptance", at - 4 * DAY, password)
    player.open(plans.FIRST_OF_SG1)
    point = inspections.set_point(
        session, player.cards[WITNESSED].id, "witness", player.at
    )
    inspections.tell(session, point, at, player.at + timedelta(hours=1))
    player.at = player.began = at
    for place, filled in shown.ACCEPTANCE.items():
        player.fill(*place, filled)
        if place == WITNESSED:
            inspections.attend(session, point, password, player.at)
    player.sign()
    player.turn_over()


def maintain(
    session: Session,
    table: shown.Round,
    at: datetime,
    password: str,
    *,
    plan: plans.PlanChanges | None = None,
    in_service: shown.Round | None = None,
) -> None:
    """Play a maintenance round of SG-1; *in_service* is read once it is live again."""
    player = Player(session, METAL_CLAD, "maintenance", at, password)
    player.open(plan)
    player.fill_all(table)
    if in_service:
        player.hand_back()
        player.fill_all(in_service)
    player.sign()
    player.turn_over()


def begin_connected(session: Session, at: datetime, password: str) -> None:
    """Play the round of GT-4 as far as it is, with a figure that its lead adopted."""
    adopt_suggestions(session, CONNECTED, at - timedelta(hours=2))
    player = Player(session, CONNECTED, "acceptance", at, password)
    player.open(gt4_readings.PLAN, GAS_PROGRAMME)
    player.fill_all(gt4_readings.AROUND)
    player.walk.end_shift()
    for one in gt4_readings.DEFICIENCIES:
        player.raise_deficiency(*one)
    player.sign()


def begin(session: Session, store: FileStore, at: datetime, password: str) -> None:
    """Play the round of LB-2 as far as it is; a withstand test waits for the owner."""
    player = Player(session, METAL_ENCLOSED, "acceptance", at, password)
    player.open(plans.HALF_DONE)
    point = inspections.set_point(session, player.cards[HELD].id, "hold", at)
    inspections.tell(session, point, at + timedelta(hours=27), at)
    player.fill_all(shown.HALF_DONE)
    player.sign()
    found = player.raise_deficiency(*shown.HALF_DONE_DEFICIENCY)
    attach_sketch(session, store, found, player.at)
    attach_photographs(
        session,
        store,
        switch=player.cards[DEFICIENT],
        bus=player.cards[JOINTED],
        deficiency_id=found,
        at=player.at,
    )
