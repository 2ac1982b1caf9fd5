"""The demo loads once, holds together, and shows what it promises."""

import re
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from models.judging.curve_fit import CurveFit, fit_curve, sloping
from models.judging.record_marks import coil_marks
from models.judging.rows import points_of
from models.judging.series import parse_series
from models.schema import (
    APPEND_ONLY,
    Attachment,
    Authority,
    Base,
    Card,
    Deficiency,
    InspectionPoint,
    Package,
    PackageFile,
    Person,
    PlanChange,
    Point,
    Reading,
    Round,
)
from models.schema.engine import make_engine
from models.services.keeping.check_record import check_record
from models.services.keeping.log import stamp
from models.services.owner.gear_book import gear_book
from models.services.owner.trends import trend
from models.services.people.sign_in import check_sign_in
from models.services.safety.round_safety import safety_of_round
from models.services.setup.things import spare_shelf, thing
from models.services.turnover.gate import gate
from models.services.turnover.list_rounds import list_rounds
from models.services.turnover.package import draft_document
from models.services.turnover.waiting import what_waits
from models.signing.verification import verify_package
from seed_demo.lineups import CONNECTED, GAS_INSULATED, METAL_CLAD, METAL_ENCLOSED
from seed_demo.people import (
    LEAD,
    OWNER,
    PASSWORD,
    PEOPLE,
    SECOND,
    TECHNICIAN,
    fixed_id,
)
from seed_demo.readings import IR
from seed_demo.scenario import load_if_absent
from seed_demo.site import SITE
from tests.conftest import sqlite_address
from webapp.config import Config
from webapp.file_store import store_of
from webapp.migrating import migrate
from webapp.package_photographs import printed_photographs

BLADE = "Cell 1 · switch 89-1 · contact resistance · deficiency D-001"
NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def config(tmp_path_factory: pytest.TempPathFactory) -> Config:
    """An installation with the demo in it."""
    folder = tmp_path_factory.mktemp("demo")
    url = sqlite_address(folder / "demo.sqlite")
    migrate(url)
    made = Config(
        database=url, secret="the demo's, for tests only", files=str(folder / "files")
    )
    said: list[str] = []
    assert load_if_absent(made, NOW, report=said.append) is True
    assert said[0].startswith("Loading the demo")
    return made


@pytest.fixture(scope="module")
def demo_engine(config: Config) -> Iterator[Engine]:
    engine = make_engine(config.database)
    yield engine
    engine.dispose()


@pytest.fixture
def demo(demo_engine: Engine) -> Iterator[Session]:
    """A session on the demo, undone after the test."""
    with Session(demo_engine) as session:
        yield session


def rounds(session: Session) -> dict[tuple[str, str], Round]:
    """Return every round by (lineup, title)."""
    return {(r.lineup.name, r.title): r for r in session.scalars(select(Round))}


def readings_of(session: Session, round_: Round) -> list[Reading]:
    """Return every reading of a round, in the order of its cards."""
    asked = select(Reading).join(Card).where(Card.round_id == round_.id)
    return list(session.scalars(asked.order_by(Card.position, Reading.taken_at)))


def verdicts(session: Session, round_: Round) -> Counter[str]:
    """Count the verdicts that hold in a round."""
    (one,) = (
        s for s in list_rounds(session, person_id=LEAD.id).rows if s.id == round_.id
    )
    return Counter(
        within=one.within,
        marginal=one.marginal,
        outside=one.outside,
        unjudged=one.unjudged,
    )


def test_a_second_load_keeps_what_is_there(config: Config, demo: Session) -> None:
    def counts() -> dict[str, int]:
        return {
            name: demo.execute(select(func.count()).select_from(table)).scalar_one()
            for name, table in Base.metadata.tables.items()
        }

    before = counts()
    demo.rollback()
    assert load_if_absent(config, NOW, report=lambda _: None) is False
    assert counts() == before
    empty = {name for name, count in before.items() if not count}
    # What the demo shows nothing of: a wrong password, a first start, a link to enrol;
    # a file withdrawn, a plan that is still made; a returned or withdrawn card, a
    # waived signature; a decision answered, a verdict judged again; the list that cards
    # had before safety had scopes; a tablet that took a round along.
    assert empty == {
        *("confirmed_together", "precondition_list", "precondition_text"),
        *("invitation", "attachment_withdrawal", "plan_draft"),
        *("throttle", "first_start", "card_return", "card_withdrawal", "seal_waiver"),
        *("agreement", "rejudging"),
        *("tablet", "tablet_act", "tablet_round", "tablet_share"),
    }
    assert set(APPEND_ONLY) - empty


def test_the_record_holds_together(demo: Session) -> None:
    found = check_record(demo)
    readings = demo.scalars(select(func.count()).select_from(Reading)).one()
    assert found.faults == [] and found.entries > readings > 300


def test_everybody_signs_in_with_the_printed_password(demo: Session) -> None:
    for person in PEOPLE:
        view = check_sign_in(demo, sign_in=person.sign_in, password=PASSWORD)
        assert (view.name, view.roles) == (person.name, frozenset(person.roles))


def test_the_rounds_and_how_far_they_are(demo: Session) -> None:
    found = {key: r.state for key, r in rounds(demo).items()}
    assert found == {
        ("SG-1", "Acceptance round 1"): "accepted",
        ("SG-1", "Maintenance round 1"): "accepted",
        ("SG-1", "Maintenance round 2"): "accepted",
        ("LB-2", "Acceptance round 1"): "open",
        ("GT-3", "Acceptance round 1"): "open",
        ("GT-4", "Acceptance round 1"): "open",
    }


def reading_at(session: Session, apparatus: str, procedure: str, text: str) -> Reading:
    """Return the acceptance reading of SG-1 with this text."""
    round_ = rounds(session)[METAL_CLAD, "Acceptance round 1"]
    (found,) = (
        r
        for r in session.scalars(
            select(Reading).join(Card).where(Card.round_id == round_.id)
        )
        if r.text == text
        and r.card.procedure == procedure
        and r.card.apparatus.label == apparatus
    )
    return found


def test_correction_turns_the_verdict_both_ways(demo: Session) -> None:
    """The class asks for 5 GOhm at 20 degC: 3.40 in the heat is enough, 6.20 in the
    cold is not.
    """
    warm = reading_at(demo, "bus A", IR, "3.40")
    cold = reading_at(demo, "breaker 52-3", IR, "6.20")
    assert warm.low is not None and cold.low is not None
    assert warm.low < 5 < cold.low  # as read, GOhm
    assert (warm.judgements[-1].verdict, cold.judgements[-1].verdict) == (
        "within",
        "outside",
    )
    for reading in (warm, cold):
        corrected = reading.judgements[-1].corrected
        assert corrected is not None
        assert (corrected >= 5000) == (reading is warm)


def test_an_over_range_reading_is_a_bound(demo: Session) -> None:
    reading = reading_at(demo, "breaker 52-1", IR, ">200")
    assert (reading.low, reading.high) == (200.0, None)
    assert reading.judgements[-1].verdict == "within"


def test_relays_are_timed_on_their_curves(demo: Session) -> None:
    points = demo.scalars(
        select(Point).join(Card).where(Card.procedure == "relay_timing")
    )
    curves = {
        bound["curve"]["name"]
        for point in points
        for bound in point.rule["bounds"]
        if bound["kind"] == "operating_time"
    }
    assert curves == {"ieee_very_inverse", "ieee_extremely_inverse"}


def test_one_relay_is_slow_by_its_pickup_and_one_has_an_assigned_error(
    demo: Session,
) -> None:
    bounds: dict[str, dict[str, Any]] = {}
    timed: dict[str, list[tuple[float, float | None]]] = {}
    for reading in demo.scalars(
        select(Reading).join(Card).where(Card.procedure == "relay_timing")
    ):
        relay = reading.card.apparatus.label
        bounds[relay] = reading.point.rule["bounds"][0]
        timed.setdefault(relay, []).append(
            (reading.conditions["applied_a"], reading.low)
        )
    assert "bands" in bounds["relay 51-1"]
    slow = bounds["relay 51-3"]
    fitted = fit_curve(slow["curve"], sloping(slow, timed["relay 51-3"][:5]))
    assert isinstance(fitted, CurveFit)
    assert 1.02 < fitted.pickup < 1.03
    assert fitted.dial == pytest.approx(3.0, rel=0.01)


def test_a_retest_closes_a_deficiency(demo: Session) -> None:
    closed = [
        d
        for d in demo.scalars(select(Deficiency))
        if d.closing is not None and d.closing.reading_id is not None
    ]
    assert len(closed) == 2
    for deficiency in closed:
        first = deficiency.reading
        assert first is not None and first.judgements[-1].verdict == "outside"
        assert deficiency.closing is not None
        retest = demo.get_one(Reading, deficiency.closing.reading_id)
        assert retest.supersedes_id == first.id
        assert retest.judgements[-1].verdict == "within"


def test_verdicts_of_the_acceptance_round(demo: Session) -> None:
    """One is marginal and disposed of; nothing that holds is outside.

    Two buses with twelve points each, five breakers with fifteen, two relays with five;
    three cores and the three coils of a breaker.
    """
    found = verdicts(demo, rounds(demo)[METAL_CLAD, "Acceptance round 1"])
    assert found == Counter(within=114, marginal=1, outside=0, unjudged=0)


def test_most_of_what_is_connected_is_within_and_something_of_everything_is_there(
    demo: Session,
) -> None:
    """Gas, transformers, relay, breaker, cable, ground and bolts; the rest to come."""
    round_ = rounds(demo)[CONNECTED, "Acceptance round 1"]
    assert verdicts(demo, round_) == Counter(
        within=106, marginal=2, outside=2, unjudged=3
    )
    read = {r.card.procedure for r in readings_of(demo, round_)}
    assert len(read) == 33 and not read & {IR, "dielectric_withstand"}
    found = gate(demo, person_id=LEAD.id, round_id=round_.id)
    assert {line.code for line in found.still} >= {
        *("undisposed_outside", "incomplete", "unsigned", "deficiencies")
    }


def test_what_is_outside_there_has_its_deficiency(demo: Session) -> None:
    round_ = rounds(demo)[CONNECTED, "Acceptance round 1"]
    raised = {
        d.reading.card.procedure
        for d in demo.scalars(select(Deficiency))
        if d.reading is not None and d.reading.card.round_id == round_.id
    }
    outside = {
        r.card.procedure
        for r in readings_of(demo, round_)
        if r.judgements[-1].verdict == "outside"
    }
    assert raised == outside == {"breaker_timing", "cable_sheath"}


def test_an_adopted_suggestion_says_that_nobody_published_it(demo: Session) -> None:
    for name in (METAL_CLAD, CONNECTED):
        round_ = rounds(demo)[name, "Acceptance round 1"]
        read = [
            r for r in readings_of(demo, round_) if r.card.procedure == "coil_current"
        ]
        assert read
        for reading in read:
            cites = reading.point.rule["cite"]
            assert any("without a published source" in c["document"] for c in cites)
            assert reading.judgements[-1].verdict == "within"


def test_curves_stand_beside_those_of_the_baseline(demo: Session) -> None:
    """Three rounds of a core and of a trip coil whose plunger comes later each year."""
    curves, latched = 0, []
    for title in ("Acceptance round 1", "Maintenance round 1", "Maintenance round 2"):
        for reading in readings_of(demo, rounds(demo)[METAL_CLAD, title]):
            curves += "excitation" in reading.conditions
            if text := reading.conditions.get("coil_record"):
                steps = parse_series("coil_record", text)
                latched.append(coil_marks(points_of("coil_record", steps))["latch"])
    assert curves == 9
    assert len(latched) == 3 and latched == sorted(set(latched))


def test_bus_a_was_looked_at_in_service(demo: Session) -> None:
    """Under load, after its clearance was returned: nothing was found."""
    round_ = rounds(demo)[METAL_CLAD, "Maintenance round 2"]
    live = {"phase_rotation", "thermography", "discharge_survey"}
    read = [r for r in readings_of(demo, round_) if r.card.procedure in live]
    assert {r.card.procedure for r in read} == live
    seen = safety_of_round(demo, round_, now=NOW)
    back = max(act["at"] for act in seen.acts if act["act"] == "hand_back")
    for reading in read:
        assert reading.judgements[-1].verdict == "within"
        assert stamp(reading.taken_at) > back


def test_the_half_done_round_has_something_of_everything(demo: Session) -> None:
    round_ = rounds(demo)[METAL_ENCLOSED, "Acceptance round 1"]
    found = gate(demo, person_id=LEAD.id, round_id=round_.id)
    codes = {line.code for line in found.still}
    assert {
        *("undisposed_outside", "incomplete", "unsigned", "deficiencies"),
        "calibration",
    } <= codes
    assert not (found.ready or found.may_approve)
    assert found.counts["cards_signed"] >= 1


def test_safety_was_confirmed_where_it_holds(demo: Session) -> None:
    """Accepted rounds handed their clearances back; the half-done one still has its."""
    found = rounds(demo)
    assert not any(round_.earlier_list for round_ in found.values())
    accepted = [one for one in found.values() if one.state == "accepted"]
    half = found[METAL_ENCLOSED, "Acceptance round 1"]
    assert len(accepted) == 3
    for round_ in (*accepted, half):
        seen = safety_of_round(demo, round_, now=NOW)
        site = seen.safety.site(seen.at)
        assert site["crews"] and site["isolations"], round_.title
        assert all(one["clearance"] for one in site["isolations"])
        state = "stands" if round_ is half else "ended"
        assert {one["state"] for one in site["crews"]} == {state}, round_.title
        acts = Counter(act["act"] for act in seen.acts)
        handed_back = acts["hand_back"] == acts["open_isolation"]
        assert handed_back is (round_ is not half), round_.title
        cards = seen.rows.readings
        assert cards and not any(seen.safety.outside(card) for card in cards)


def test_the_open_rounds_were_planned(demo: Session) -> None:
    """One card left out, one with other points, an edition for each, cards assigned."""
    half = rounds(demo)[METAL_ENCLOSED, "Acceptance round 1"]
    whole = rounds(demo)[GAS_INSULATED, "Acceptance round 1"]
    changed = {(c.round_id, c.what) for c in demo.scalars(select(PlanChange))}
    connected = rounds(demo)[CONNECTED, "Acceptance round 1"]
    assert changed == {
        (half.id, "left_out"),
        (whole.id, "points"),
        (connected.id, "points"),
    }
    assert [one["print"] for one in (*half.editions, *whole.editions)] == [
        *("field_enclosed_older", "insulation_minimum")
    ]
    cards = [*half.cards, *whole.cards, *connected.cards]
    assert {c.assigned_to_id for c in cards} == {TECHNICIAN.id, SECOND.id}
    assert all(c.planned_on for c in cards)


def test_a_withstand_test_waits_for_the_owner_and_one_was_attended(
    demo: Session,
) -> None:
    waits = what_waits(demo, person_id=OWNER.id)
    assert [(one.kind, one.count) for one in waits] == [("inspections", 1)]
    points = {p.kind: p for p in demo.scalars(select(InspectionPoint))}
    witness = points["witness"]
    assert witness.answer is not None and len(witness.notices) == 1
    assert (witness.answer.answer, witness.answer.by_id) == ("present", OWNER.id)
    assert points["hold"].answer is None


def test_readings_follow_a_breaker_from_cell_to_cell(demo: Session) -> None:
    """The spare stood in for 52-5, then for 52-T, which lies on the spare shelf."""
    spare = thing(demo, person_id=OWNER.id, apparatus_id=fixed_id("SG-1 breaker 52-S"))
    assert {(c.round, c.cell) for c in spare.cards} == {
        ("Maintenance round 2 of SG-1", "4 Bus tie"),
        ("Maintenance round 1 of SG-1", "5 Screens and chlorination"),
    }
    book = gear_book(demo, person_id=OWNER.id, lineup_id=fixed_id(METAL_CLAD))
    in_tie = {
        (row.apparatus, row.baseline is None, row.latest is None)
        for row in book.rows
        if row.cell_number == "4"
    }
    assert in_tie == {("breaker 52-T", False, True), ("breaker 52-S", True, False)}
    row = next(one for one in book.rows if one.apparatus == "breaker 52-S")
    found = trend(demo, person_id=OWNER.id, point_id=row.point_id)
    assert [one.cell for one in found.points] == ["5", "4"]
    _, shelf = spare_shelf(demo, person_id=OWNER.id, site_id=fixed_id(SITE))
    assert [one.label for one in shelf] == ["breaker 52-T"]


def test_files_are_attached_and_are_what_they_say(demo: Session) -> None:
    found = Counter((a.subject, a.file.kind) for a in demo.scalars(select(Attachment)))
    assert found == Counter(
        {
            ("calibration", "pdf"): 3,
            ("card", "jpeg"): 1,
            ("deficiency", "jpeg"): 1,
            ("deficiency", "png"): 1,
        }
    )


def test_the_half_done_round_prints_its_photographs(
    demo: Session, config: Config
) -> None:
    round_ = rounds(demo)[METAL_ENCLOSED, "Acceptance round 1"]
    document = draft_document(demo, person_id=LEAD.id, round_id=round_.id, now=NOW)
    printed = printed_photographs(document, store_of(config))
    assert [(one["name"], one["where"]) for one in printed.files] == [
        ("blade-C-of-89-1.png", BLADE),
        ("89-1 blade C.jpg", BLADE),
        ("bus joint C.jpg", "Cell 1 · bus · contact resistance"),
    ]
    assert all(printed.pictures.values())


def test_a_project_s_criterion_goes_before_the_maker_s(demo: Session) -> None:
    round_ = rounds(demo)[METAL_ENCLOSED, "Acceptance round 1"]
    (card,) = (
        c
        for c in demo.scalars(select(Card).where(Card.round_id == round_.id))
        if (c.apparatus.label, c.procedure) == ("switch 89-1", "contact_resistance")
    )
    (cite,) = (c for c in card.points[0].rule["cite"] if "criterion" in c)
    assert cite["provenance"] == "project"
    assert "goes before the maker's 140 µΩ (Instruction book LBS-15)" in cite["note"]


def test_a_contact_that_moved_stands_first_in_the_gear_book(demo: Session) -> None:
    """Within its rule of 1.5 and the maker's limit, a third above its baseline."""
    book = gear_book(demo, person_id=OWNER.id, lineup_id=fixed_id(METAL_CLAD))
    assert [r.title for r in book.rounds] == [
        "Acceptance round 1",
        "Maintenance round 1",
        "Maintenance round 2",
    ]
    assert "breaker 52-3" in {row.apparatus for row in book.moved}
    (pole,) = (
        row
        for row in book.rows
        if (row.apparatus, row.procedure, row.point)
        == ("breaker 52-3", "contact_resistance", "pole C")
    )
    assert pole.latest is not None and pole.latest["verdict"] == "within"
    assert pole.change_pct == pytest.approx(30, abs=4)


def test_its_packages_hold(demo: Session) -> None:
    root = demo.scalars(select(Authority)).one().certificate_pem
    packages = demo.scalars(select(Package)).all()
    assert len(packages) == 3
    for package in packages:
        last = demo.scalars(
            select(PackageFile)
            .where(PackageFile.package_id == package.id)
            .order_by(PackageFile.seq.desc())
            .limit(1)
        ).one()
        found = verify_package(last.pdf, root)
        assert found.faults == []
        assert [s.field for s in found.seals] == [f.field for f in package.files]
        # Each signature states the time of its round, not that of today.
        for seal, file in zip(found.seals, package.files, strict=True):
            stated = datetime.fromisoformat(seal.at)
            assert abs((stated - file.at).total_seconds()) < 2


def test_nobody_approved_what_they_performed(demo: Session) -> None:
    took = set(demo.scalars(select(Reading.by_id)))
    approved = set(
        demo.scalars(select(PackageFile.by_id).where(PackageFile.field == "approved"))
    )
    assert approved == {LEAD.id} and not took & approved
    assert TECHNICIAN.id in took


def test_nothing_is_dated_after_the_moment_it_was_loaded_at(demo: Session) -> None:
    assert demo.scalars(select(func.max(Reading.arrived_at))).one() <= NOW
    assert demo.scalars(select(func.max(Person.created_at))).one() <= NOW
    assert demo.scalars(select(func.max(Round.opened_at))).one() <= NOW


# Words that would point at somebody's product or at anybody real.
TRADEMARKS = re.compile(r"[®™©]|\b(?:Inc|Ltd|GmbH|Corp|LLC|S\.A)\b\.?")


def test_the_names_are_invented(demo: Session) -> None:
    """No mark of a maker anywhere in what the demo stores or says."""
    texts = [
        path.read_text("utf-8")
        for path in (Path(__file__).parents[2] / "seed_demo").glob("*.py")
    ]
    for table in Base.metadata.sorted_tables:
        if table.name in ("package", "package_file", "authority", "signing_key"):
            continue
        texts.extend(map(repr, demo.execute(select(table).limit(500)).all()))
    found = [m.group() for t in texts for m in TRADEMARKS.finditer(t)]
    assert found == []


def test_two_tables_were_checked_and_the_later_rounds_say_so(demo: Session) -> None:
    def cites(title: str) -> list[dict[str, Any]]:
        named = [
            point.rule
            for point in demo.scalars(select(Point))
            if point.card.round.lineup.name == title
        ]
        return [cite for rule in named for cite in rule["cite"]]

    later = cites("LB-2")
    owner = [c for c in later if c["provenance"] == "confirmed"]
    assert owner and all("Quillon Bay Water Board" in c["note"] for c in owner)
    column = [c for c in later if c["row"] == "column solid"]
    assert column and all(
        c["provenance"] == "memory" and "1 of 25 figures still from memory" in c["note"]
        for c in column
    )
    assert not any("compared with" in c["note"] for c in cites("SG-1"))
