"""An export: whole, as its schemas say, read by other programs, the same every time."""

import io
import json
import subprocess
import zipfile
from collections import Counter
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pandas as pd
import pytest
from jsonschema import Draft202012Validator
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import NotFoundError, StoreError
from models.files.folder_store import FolderStore
from models.schema import (
    APPEND_ONLY,
    Attachment,
    Base,
    Judgement,
    LogEntry,
    PackageFile,
    Person,
    Reading,
    Round,
)
from models.services.export import tables
from models.services.export.rows import ScopeRows
from models.services.export.scope import scope_for, scope_named
from models.signing import chain
from tests.attaching import put
from tests.conftest import Stages
from tests.models.files import made_up_files as made
from tests.models.services.safety.acting import Acting, one_of_each
from tests.scenario import (
    LINEUP,
    OWNER,
    SITE,
    TECHNICIAN,
    Work,
    fixed_id,
    lineup_id,
)
from webapp.export.parts import parts
from webapp.export.writing import write_folder, zipped

SECRETS = ("wrapped_key", "password_hash", "sign_in", "session_epoch")


class Exported:
    """A site with two rounds and files, and its export in a folder."""

    def __init__(self, session: Session, folder: Path) -> None:
        """Attach files, and export the site."""
        self.session, self.store = session, FolderStore(folder / "store")
        work = Work.resume(session)
        self.open_round = work.round_id
        put(work, self.store, "site", fixed_id(SITE), content=made.PDF, name="a.pdf")
        put(work, self.store, "lineup", lineup_id(), content=made.PDF, name="b.pdf")
        put(work, self.store, "calibration", fixed_id("CR-1 calibration"))
        put(work, self.store, "calibration", fixed_id("IR-DUE calibration"))
        session.flush()
        self.scope = scope_named(session, SITE)
        self.folder = folder / "out"
        write_folder(
            parts(session, self.store, self.scope), self.folder, lambda *_: None
        )

    def rows(self, name: str) -> list[dict[str, Any]]:
        """Return the rows of a table."""
        found: list[dict[str, Any]] = self.json(f"tables/{name}.json")
        return found

    def json(self, path: str) -> Any:
        """Return a file's value."""
        return json.loads((self.folder / path).read_text("utf-8"))

    def records(self) -> list[dict[str, Any]]:
        """Return every round's record."""
        paths = sorted(self.folder.glob("rounds/*/record.json"))
        return [json.loads(path.read_text("utf-8")) for path in paths]


@pytest.fixture(scope="module")
def exported(sqlite_stages: Stages, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The export of a site whose acceptance and maintenance rounds are turned over."""
    from models.schema.engine import make_engine

    engine = make_engine(sqlite_stages.fresh("compared"))
    with Session(engine, expire_on_commit=False) as session:
        yield Exported(session, tmp_path_factory.mktemp("export"))
    engine.dispose()


def test_every_file_is_as_its_sum_says(exported: Exported) -> None:
    done = subprocess.run(
        ["sha256sum", "-c", "--strict", "SHA256SUMS"],
        cwd=exported.folder,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout
    there = {p for p in exported.folder.rglob("*") if p.is_file()}
    assert len(done.stdout.splitlines()) == len(there) - 1


def test_every_value_fits_the_schema_beside_it(exported: Exported) -> None:
    def fits(schema: str, value: Any) -> None:
        shape = exported.json(schema)
        Draft202012Validator.check_schema(shape)
        faults = list(Draft202012Validator(shape).iter_errors(value))
        assert faults == [], schema

    names = [path.stem for path in (exported.folder / "tables").iterdir()]
    assert len(names) > 20
    for name in names:
        fits(f"schemas/tables/{name}.json", exported.rows(name))
    for record in exported.records():
        fits("schemas/record.json", record)
    for line in (exported.folder / "log.jsonl").read_text("utf-8").splitlines():
        fits("schemas/log.json", json.loads(line))


def ids(session: Session, table: Any) -> Counter[str]:
    return Counter(map(str, session.scalars(select(table.id))))


def test_every_reading_file_and_package_is_there_once(exported: Exported) -> None:
    session = exported.session
    readings = ids(session, Reading)
    assert len(readings) > 20
    assert Counter(row["id"] for row in exported.rows("reading")) == readings
    assert readings == Counter(
        reading["id"]
        for record in exported.records()
        for card in record["cards"]
        for reading in card["readings"]
    )
    frame = pd.read_csv(exported.folder / "readings.csv", dtype=str)
    assert Counter(frame["reading_id"]) == readings
    judgements = ids(session, Judgement)
    assert Counter(row["id"] for row in exported.rows("judgement")) == judgements

    files = pd.read_csv(exported.folder / "files.csv", dtype=str)
    # The certificate of an instrument that nobody used here stays where it is.
    assert len(session.scalars(select(Attachment)).all()) == 4
    assert sorted(files["subject"]) == ["calibration", "lineup", "site"]
    kept = [p for p in exported.folder.glob("files/*/*") if p.is_file()]
    assert len(kept) == 2  # one content is attached twice
    for _, row in files.iterrows():
        content = (exported.folder / row["path"]).read_bytes()
        assert sha256(content).hexdigest() == row["sha256"]

    pdfs = sorted(exported.folder.glob("rounds/*/package-*.pdf"))
    newest = session.scalars(
        select(PackageFile.sha256)
        .group_by(PackageFile.package_id)
        .having(func.max(PackageFile.seq) == PackageFile.seq)
    ).all()
    assert len(pdfs) == len(newest) == len(session.scalars(select(Round)).all())
    assert {sha256(pdf.read_bytes()).hexdigest() for pdf in pdfs} == set(newest)


def test_the_readings_are_those_of_the_record(exported: Exported) -> None:
    frame = pd.read_csv(exported.folder / "readings.csv", keep_default_na=False)
    by_id = {row["reading_id"]: row for _, row in frame.iterrows()}
    for record in exported.records():
        for card in record["cards"]:
            for reading in card["readings"]:
                row = by_id[reading["id"]]
                assert row["text"] == reading["text"]
                assert row["verdict"] == reading["judgement"]["verdict"]
                assert row["point"] == reading["point"]
                assert row["round_id"] == record["round"]["id"]
    described = exported.json("datapackage.json")["resources"]
    for resource in described:
        content = (exported.folder / resource["path"]).read_bytes()
        assert resource["hash"] == f"sha256:{sha256(content).hexdigest()}"
        columns = pd.read_csv(exported.folder / resource["path"]).columns
        assert list(columns) == [f["name"] for f in resource["schema"]["fields"]]


def test_every_key_leads_to_a_row(exported: Exported) -> None:
    """What a row names is in the export, or said to be left out."""
    there = {path.stem for path in (exported.folder / "tables").iterdir()}
    held = {
        name: {row[tables.key_of(name).name] for row in exported.rows(name)}
        for name in there
    }
    named = 0
    for name in sorted(there):
        for column, other in tables.references(name):
            if other in tables.NOT_EXPORTED:
                continue
            for row in exported.rows(name):
                key = row[column.name]
                assert key is None or key in held[other], (name, column.name, key)
                named += key is not None
    assert named > 400


def test_the_log_is_of_this_site_and_its_hashes_can_be_taken_again(
    exported: Exported,
) -> None:
    lines = (exported.folder / "log.jsonl").read_text("utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    assert entries == sorted(entries, key=lambda entry: entry["seq"])
    for entry in entries:
        content = {k: v for k, v in entry.items() if k not in ("previous", "hash")}
        assert chain.link(entry["previous"], content) == entry["hash"]
    told = Counter(entry["action"] for entry in entries)
    logged = Counter(exported.session.scalars(select(LogEntry.action)))
    for action in ("reading", "sign card as performed", "sign package as approved"):
        assert told[action] == logged[action] > 0


def test_nothing_secret_is_in_it(exported: Exported) -> None:
    people = exported.rows("person")
    assert {p["name"] for p in people} >= {TECHNICIAN.name, OWNER.name}
    assert set(people[0]) == {"id", "name", "organisation_id"}
    everything = b"".join(
        path.read_bytes() for path in exported.folder.rglob("*") if path.is_file()
    )
    for one in exported.session.scalars(select(Person)):
        assert one.password_hash.encode() not in everything
        for key in one.keys:
            assert key.wrapped_key.encode()[:80] not in everything
    for name in tables.below("site", "instrument") + tuple(tables.ONLY):
        assert not {c.name for c in tables.columns(name)} & set(SECRETS), name


def test_every_table_is_exported_or_said_not_to_be() -> None:
    """Who adds a table says whether it is part of a record."""
    reached = {
        *(tables.OF_A_ROUND + tables.OF_A_SITE + tables.OF_INSTRUMENTS),
        *(tables.OF_FILES + tables.WHOLE + tables.OF_PEOPLE),
    }
    for _ in range(3):  # what is named by what is named
        reached |= {other for name in reached for _, other in tables.references(name)}
    assert set(Base.metadata.tables) - reached == set(tables.NOT_EXPORTED)
    assert "plan_draft" not in reached  # an owner is not told of what is not opened
    # Of what people record, only what is no part of a site's record is left out.
    left_out = set(APPEND_ONLY) & set(tables.NOT_EXPORTED)
    assert left_out == {"edition_choice", "log_entry", "receipt", "table_check"}


def test_the_zip_has_the_same_and_is_the_same_every_time(exported: Exported) -> None:
    def whole() -> bytes:
        made = parts(exported.session, exported.store, exported.scope)
        return b"".join(zipped(made, "site"))

    first = whole()
    assert whole() == first
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        assert archive.testzip() is None
        found = {name: archive.read(name) for name in archive.namelist()}
    there = {
        f"site/{path.relative_to(exported.folder)}": path.read_bytes()
        for path in exported.folder.rglob("*")
        if path.is_file()
    }
    assert found == there


def test_the_page_that_explains_it_counts_what_is_there(exported: Exported) -> None:
    text = (exported.folder / "README.txt").read_text("utf-8")
    assert text.startswith(f"Export of a site: {SITE}\n")
    assert f"{len(exported.rows('reading'))} readings, one a row" in text
    assert f"  card: {len(exported.rows('card'))}\n" in text
    assert "3 attachments" in text


def test_what_is_exported_is_said_by_id_or_by_names(exported: Exported) -> None:
    session = exported.session
    (first, second) = exported.scope.round_ids
    lineup = scope_named(session, f"{SITE}/{LINEUP}")
    assert (lineup.kind, lineup.round_ids) == ("lineup", (first, second))
    named = scope_named(session, f"{SITE}/{LINEUP}/acceptance round 1")
    assert named == scope_named(session, str(first))
    assert (named.kind, named.round_ids) == ("round", (first,))
    for words in ("nowhere", str(UUID(int=7)), f"{SITE}/x"):
        with pytest.raises(NotFoundError, match="no site, lineup or round"):
            scope_named(session, words)


def test_one_round_s_export_holds_nothing_of_the_other(
    exported: Exported, tmp_path: Path
) -> None:
    first, second = exported.scope.round_ids
    scope = scope_named(exported.session, str(first))
    folder = tmp_path / "one"
    write_folder(
        parts(exported.session, exported.store, scope), folder, lambda *_: None
    )
    for name in ("card", "round", "reading", "package"):
        text = (folder / "tables" / f"{name}.json").read_text("utf-8")
        assert str(second) not in text
    cards = json.loads((folder / "tables" / "card.json").read_text("utf-8"))
    assert {row["round_id"] for row in cards} == {str(first)}


def test_a_round_takes_its_acts_of_safety_along_and_its_crew_s(
    sqlite_stages: Stages,
) -> None:
    from models.schema.engine import make_engine

    engine = make_engine(sqlite_stages.fresh("opened"))
    with Session(engine, expire_on_commit=False) as session:
        acting = Acting(Work.resume(session))
        acts = one_of_each(acting)
        acting.keep(*acts)
        acting.work.tick(days=9)
        acting.store(acting.act("stop", stop=str(uuid4())))
        scope = scope_named(session, str(acting.work.round_id))
        found = {str(row["id"]) for row in ScopeRows(session, scope).rows("safety_act")}
        assert found == {one["key"] for one in acts}
    engine.dispose()


def test_a_file_that_is_gone_stops_the_export(
    exported: Exported, tmp_path: Path
) -> None:
    empty = FolderStore(tmp_path / "empty")
    with pytest.raises(StoreError, match="not in the store"):
        list(zipped(parts(exported.session, empty, exported.scope), "x"))


def test_an_owner_takes_along_what_was_turned_over(
    session_at: Callable[[str], Session],
) -> None:
    session = session_at("confirmed")
    work = Work.resume(session)

    def rounds(person: UUID, kind: str, key: UUID) -> tuple[UUID, ...]:
        return scope_for(session, person_id=person, kind=kind, subject_id=key).round_ids

    assert rounds(TECHNICIAN.id, "lineup", lineup_id()) == (work.round_id,)
    assert rounds(OWNER.id, "lineup", lineup_id()) == ()
    with pytest.raises(NotFoundError):
        rounds(OWNER.id, "round", work.round_id)
