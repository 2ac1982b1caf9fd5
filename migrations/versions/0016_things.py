"""Make apparatus things that move, keep versions of nameplates, and name bus sections.

Revision 0016, after 0015.

An apparatus gets its site, and maker, type, serial number and year in columns of their
own; where it stood before is its first placement, without a day or a person. What its
nameplate says becomes version 1, entered by nobody. A card keeps the cell that it is
tested in. The text on a cell's bus, 'bus A · 2000 A', becomes a section with its rated
current; one that reads otherwise stays as it is, without a current.
Both directions are tested with rows before and after, on SQLite and PostgreSQL. There
is no way down while an apparatus stands elsewhere than where it was tested: below, its
readings would be shown in the wrong cell. Versions and confirmations go on the way
down; the log has them.
Import nothing of ours here: a revision must read the same in ten years.
"""

import re
from collections.abc import Sequence
from typing import Any
from uuid import UUID, uuid5

import sqlalchemy as sa
from alembic import op, util

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None

MESSAGE = "rows of this table are only ever added"
TIME = sa.DateTime(timezone=True)
STRICT = {"sqlite_strict": True}  # on SQLite the tables are copied
ADDED = UUID("3c1bb9a0-7a0f-4a55-8f0f-9f3e5b6d1c10")  # of the rows made here
TAKEN = {
    "nameplate_version": (
        "id = NEW.id OR (lineup_id = NEW.lineup_id AND number = NEW.number) "
        "OR (apparatus_id = NEW.apparatus_id AND number = NEW.number)"
    ),
    "nameplate_confirmation": "id = NEW.id OR version_id = NEW.version_id",
    "placement": (
        "id = NEW.id OR (apparatus_id = NEW.apparatus_id AND number = NEW.number)"
    ),
}
TEXTS, WHOLE = ("maker", "type", "serial"), ("built_year",)
IDENTITY = (*TEXTS, *WHOLE)
# What lineups get, and what their nameplates had already.
NEW_RATINGS = {
    "maker": sa.Text(),
    "type": sa.Text(),
    "housing": sa.Text(),
    "altitude_m": sa.Double(),
    "arc_type": sa.Text(),
    "arc_ka": sa.Double(),
    "arc_s": sa.Double(),
    "gas": sa.Text(),
    "gas_system": sa.Text(),
}
OLD_RATINGS = (
    "serial",
    "built_year",
    "rated_kv",
    "rated_withstand_kv",
    "rated_impulse_kv",
    "rated_a",
    "rated_ka",
    "rated_s",
    "rated_hz",
    "level_ac_kv",
    "level_dc_kv",
)
BUS = re.compile(r"(?P<name>.+?) · (?P<rated>\d+(\.\d+)?) A")

LINEUP = sa.table(
    "lineup", sa.column("id", sa.Uuid()), *(sa.column(name) for name in OLD_RATINGS)
)
CELL = sa.table(
    "cell",
    sa.column("id", sa.Uuid()),
    sa.column("lineup_id", sa.Uuid()),
    sa.column("position"),
    sa.column("bus"),
)
SECTION = sa.table(
    "bus_section",
    sa.column("id", sa.Uuid()),
    sa.column("lineup_id", sa.Uuid()),
    sa.column("position"),
    sa.column("name"),
    sa.column("rated_a"),
)
APPARATUS = sa.table(
    "apparatus",
    sa.column("id", sa.Uuid()),
    sa.column("cell_id", sa.Uuid()),
    sa.column("nameplate", sa.JSON()),
    *(sa.column(name) for name in IDENTITY),
)
VERSION = sa.table(
    "nameplate_version",
    sa.column("id", sa.Uuid()),
    sa.column("lineup_id", sa.Uuid()),
    sa.column("apparatus_id", sa.Uuid()),
    sa.column("number"),
    sa.column("plate", sa.JSON()),
    sa.column("reason"),
)
PLACEMENT = sa.table(
    "placement",
    sa.column("id", sa.Uuid()),
    sa.column("apparatus_id", sa.Uuid()),
    sa.column("number"),
    sa.column("cell_id", sa.Uuid()),
    sa.column("reason"),
)


def upgrade() -> None:
    """Add the tables and columns, and fill them from what stands there."""
    _add_tables()
    for name, kind in NEW_RATINGS.items():
        op.add_column("lineup", sa.Column(name, kind, nullable=True))
    op.add_column(
        "lineup",
        sa.Column("saved", sa.Integer(), server_default="1", nullable=False),
    )
    op.add_column("cell", sa.Column("tie_to", sa.Text(), nullable=True))
    op.add_column("cell", sa.Column("removed", sa.Boolean(), nullable=True))
    for name in TEXTS:
        op.add_column("apparatus", sa.Column(name, sa.Text(), nullable=True))
    op.add_column("apparatus", sa.Column("built_year", sa.Integer(), nullable=True))
    op.add_column("apparatus", sa.Column("site_id", sa.Uuid(), nullable=True))
    op.add_column("apparatus", sa.Column("removed", sa.Boolean(), nullable=True))
    op.add_column("card", sa.Column("cell_id", sa.Uuid(), nullable=True))
    _fill_columns()
    _split_buses()
    _add_versions()
    with op.batch_alter_table("cell", table_kwargs=STRICT) as copy:
        copy.alter_column("removed", existing_type=sa.Boolean(), nullable=False)
        copy.drop_constraint(op.f("uq_cell_lineup_id_position"), type_="unique")
        copy.create_index(op.f("ix_cell_lineup_id"), ["lineup_id"])
    with op.batch_alter_table("apparatus", table_kwargs=STRICT) as copy:
        copy.alter_column("cell_id", existing_type=sa.Uuid(), nullable=True)
        copy.alter_column("site_id", existing_type=sa.Uuid(), nullable=False)
        copy.alter_column("removed", existing_type=sa.Boolean(), nullable=False)
        copy.drop_constraint(op.f("uq_apparatus_cell_id_position"), type_="unique")
        copy.create_foreign_key(
            op.f("fk_apparatus_site_id_site"), "site", ["site_id"], ["id"]
        )
        copy.create_index(op.f("ix_apparatus_site_id"), ["site_id"])
        copy.create_index(op.f("ix_apparatus_cell_id"), ["cell_id"])
    with op.batch_alter_table("card", table_kwargs=STRICT) as copy:
        copy.alter_column("cell_id", existing_type=sa.Uuid(), nullable=False)
        copy.create_foreign_key(
            op.f("fk_card_cell_id_cell"), "cell", ["cell_id"], ["id"]
        )
    _guard(*TAKEN)


def downgrade() -> None:
    """Put everything back where it stood.

    Raises CommandError, before anything is taken away, where an apparatus stands
    elsewhere than in the cell of its cards, or a cell was taken out.
    """
    _stay_where_things_moved()
    _join_buses()
    _put_identities_back()
    with op.batch_alter_table("card", table_kwargs=STRICT) as copy:
        copy.drop_constraint(op.f("fk_card_cell_id_cell"), type_="foreignkey")
        copy.drop_column("cell_id")
    with op.batch_alter_table("apparatus", table_kwargs=STRICT) as copy:
        copy.drop_index(op.f("ix_apparatus_cell_id"))
        copy.drop_index(op.f("ix_apparatus_site_id"))
        copy.drop_constraint(op.f("fk_apparatus_site_id_site"), type_="foreignkey")
        for name in (*IDENTITY, "site_id", "removed"):
            copy.drop_column(name)
        copy.alter_column("cell_id", existing_type=sa.Uuid(), nullable=False)
        copy.create_unique_constraint(
            op.f("uq_apparatus_cell_id_position"), ["cell_id", "position"]
        )
    with op.batch_alter_table("cell", table_kwargs=STRICT) as copy:
        copy.drop_index(op.f("ix_cell_lineup_id"))
        for name in ("tie_to", "removed"):
            copy.drop_column(name)
        copy.create_unique_constraint(
            op.f("uq_cell_lineup_id_position"), ["lineup_id", "position"]
        )
    for name in (*NEW_RATINGS, "saved"):
        op.drop_column("lineup", name)
    for table in ("nameplate_confirmation", "nameplate_version", "placement"):
        op.drop_table(table)
    op.drop_table("bus_section")


def _add_tables() -> None:
    op.create_table(
        "bus_section",
        sa.Column("lineup_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("rated_a", sa.Double(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        _names("bus_section", "lineup_id", "lineup"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bus_section")),
        _once("bus_section", "lineup_id", "name"),
        sqlite_strict=True,
    )
    op.create_table(
        "nameplate_version",
        sa.Column("lineup_id", sa.Uuid(), nullable=True),
        sa.Column("apparatus_id", sa.Uuid(), nullable=True),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("plate", sa.JSON(), nullable=False),
        *_entered("nameplate_version"),
        sa.CheckConstraint(
            "(lineup_id IS NULL) <> (apparatus_id IS NULL)",
            name=op.f("ck_nameplate_version_of"),
        ),
        _names("nameplate_version", "lineup_id", "lineup"),
        _names("nameplate_version", "apparatus_id", "apparatus"),
        _once("nameplate_version", "lineup_id", "number"),
        _once("nameplate_version", "apparatus_id", "number"),
        sqlite_strict=True,
    )
    op.create_table(
        "nameplate_confirmation",
        sa.Column("version_id", sa.Uuid(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        _names("nameplate_confirmation", "version_id", "nameplate_version"),
        _names("nameplate_confirmation", "by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_nameplate_confirmation")),
        _once("nameplate_confirmation", "version_id"),
        sqlite_strict=True,
    )
    op.create_table(
        "placement",
        sa.Column("apparatus_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("cell_id", sa.Uuid(), nullable=True),
        sa.Column("from_day", sa.Date(), nullable=True),
        *_entered("placement"),
        _names("placement", "apparatus_id", "apparatus"),
        _names("placement", "cell_id", "cell"),
        _once("placement", "apparatus_id", "number"),
        sqlite_strict=True,
    )


def _entered(table: str) -> tuple[Any, ...]:
    """Return what says who entered a row, when and why, and its key."""
    return (
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=True),
        sa.Column("at", TIME, nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "(by_id IS NULL) = (at IS NULL)", name=op.f(f"ck_{table}_entered")
        ),
        _names(table, "by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}")),
    )


def _names(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{other}")
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=name)


def _once(table: str, *columns: str) -> sa.UniqueConstraint:
    name = op.f(f"uq_{table}_{'_'.join(columns)}")
    return sa.UniqueConstraint(*columns, name=name)


# Rows on the way up


def _fill_columns() -> None:
    op.execute(sa.text("UPDATE cell SET removed = :no").bindparams(no=False))
    op.execute(sa.text("UPDATE apparatus SET removed = :no").bindparams(no=False))
    op.execute(
        "UPDATE apparatus SET site_id = (SELECT lineup.site_id FROM lineup "
        "JOIN cell ON cell.lineup_id = lineup.id WHERE cell.id = apparatus.cell_id)"
    )
    op.execute(
        "UPDATE card SET cell_id = (SELECT apparatus.cell_id FROM apparatus "
        "WHERE apparatus.id = card.apparatus_id)"
    )
    rows = []
    for row in op.get_bind().execute(sa.select(APPARATUS)).mappings().all():
        known = dict(row["nameplate"])
        own = {name: known.pop(name, None) for name in IDENTITY}
        year = own["built_year"]
        own["built_year"] = None if year is None else int(year)
        rows.append({"key": row["id"], "plate": known, **own})
    if rows:
        taken = {name: sa.bindparam(name) for name in IDENTITY}
        op.get_bind().execute(
            sa.update(APPARATUS)
            .where(APPARATUS.c.id == sa.bindparam("key"))
            .values(nameplate=sa.bindparam("plate"), **taken),
            rows,
        )


def _split_buses() -> None:
    """Make a section of each text; two of one name and another current stay whole."""
    sections: dict[tuple[UUID, str], dict[str, Any]] = {}
    of_text: dict[tuple[UUID, str], str] = {}
    order = (CELL.c.lineup_id, CELL.c.position)
    for row in op.get_bind().execute(sa.select(CELL).order_by(*order)).mappings().all():
        lineup, text = row["lineup_id"], row["bus"]
        if (lineup, text) in of_text:
            continue
        found = BUS.fullmatch(text)
        name, rated = (found["name"], float(found["rated"])) if found else (text, None)
        if (lineup, name) in sections:
            name, rated = text, None
        of_text[lineup, text] = name
        section = {
            "id": uuid5(ADDED, f"{lineup} {name}"),
            "lineup_id": lineup,
            "position": sum(one == lineup for one, _ in sections) + 1,
            "name": name,
            "rated_a": rated,
        }
        sections.setdefault((lineup, name), section)
    _add(SECTION, list(sections.values()))
    for (lineup, text), name in of_text.items():
        op.get_bind().execute(
            sa.update(CELL)
            .where(CELL.c.lineup_id == lineup, CELL.c.bus == text)
            .values(bus=name)
        )


def _add_versions() -> None:
    run = op.get_bind().execute
    versions, placements = [], []
    for row in run(sa.select(LINEUP)).mappings().all():
        plate = {n: row[n] for n in OLD_RATINGS if row[n] is not None}
        versions.append(_version(row["id"], None, plate))
    for row in run(sa.select(APPARATUS)).mappings().all():
        own = {name: row[name] for name in IDENTITY if row[name] is not None}
        versions.append(_version(None, row["id"], {**own, **row["nameplate"]}))
        placements.append(
            {
                "id": uuid5(ADDED, f"placement {row['id']}"),
                "apparatus_id": row["id"],
                "number": 1,
                "cell_id": row["cell_id"],
                "reason": "",
            }
        )
    _add(VERSION, versions)
    _add(PLACEMENT, placements)


def _version(
    lineup: UUID | None, apparatus: UUID | None, plate: dict[str, Any]
) -> dict[str, Any]:
    return {
        "id": uuid5(ADDED, f"version {lineup or apparatus}"),
        "lineup_id": lineup,
        "apparatus_id": apparatus,
        "number": 1,
        "plate": plate,
        "reason": "",
    }


def _add(table: sa.TableClause, rows: Sequence[dict[str, Any]]) -> None:
    if rows:
        op.get_bind().execute(sa.insert(table), rows)


def _guard(*tables: str) -> None:
    """Refuse update, delete and replace, as for what was there before."""
    for table in tables:
        if op.get_bind().dialect.name != "sqlite":
            op.execute(
                f"CREATE TRIGGER {table}_append_only "
                f"BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
                "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
            )
            continue
        refused = f"BEGIN SELECT RAISE(ABORT, '{table}: {MESSAGE}'); END"
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
                f"{refused}"
            )
        rows = f"SELECT 1 FROM {table} WHERE {TAKEN[table]}"  # noqa: S608 (ours)
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS ({rows}) {refused}"
        )


# Rows on the way down


def _stay_where_things_moved() -> None:
    found = op.get_bind().scalar(
        sa.text(
            "SELECT (SELECT count(*) FROM apparatus WHERE cell_id IS NULL) "
            "+ (SELECT count(*) FROM cell WHERE removed = :yes) "
            "+ (SELECT count(*) FROM card JOIN apparatus "
            "ON apparatus.id = card.apparatus_id "
            "WHERE apparatus.cell_id IS NULL OR apparatus.cell_id <> card.cell_id)"
        ).bindparams(yes=True)
    )
    if found:
        raise util.CommandError(
            f"Revision 0016 stays: {found} rows tell of apparatus that was moved or of "
            "cells that were taken out, and below it nothing would say so. Nothing was "
            "changed. Go back to a backup made before instead."
        )


def _join_buses() -> None:
    run = op.get_bind().execute
    for row in run(sa.select(SECTION)).mappings().all():
        if row["rated_a"] is None:
            continue
        run(
            sa.update(CELL)
            .where(CELL.c.lineup_id == row["lineup_id"], CELL.c.bus == row["name"])
            .values(bus=f"{row['name']} · {row['rated_a']:g} A")
        )


def _put_identities_back() -> None:
    rows = []
    for row in op.get_bind().execute(sa.select(APPARATUS)).mappings().all():
        own = {name: row[name] for name in IDENTITY if row[name] is not None}
        rows.append({"key": row["id"], "plate": {**own, **row["nameplate"]}})
    if rows:
        op.get_bind().execute(
            sa.update(APPARATUS)
            .where(APPARATUS.c.id == sa.bindparam("key"))
            .values(nameplate=sa.bindparam("plate")),
            rows,
        )
