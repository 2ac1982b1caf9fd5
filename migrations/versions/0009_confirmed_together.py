"""Store confirmations that came together as one row, and their texts once.

Revision 0009, after 0008.

What one person sent on one card at one moment is one row: it names a stored list of
(code, digest of the text, state), and has key, time and reason of each. Entries of the
log from before name each confirmation; those from now on hold a digest over the row.
Both directions are tested with rows before and after, on SQLite and PostgreSQL: what
is taken apart is put together again to the same rows, so that the log still fits.
Below, the program of that time cannot read the entries of the log from above.
Import nothing of ours here: a revision must read the same in ten years.
"""

import hashlib
import json
from collections.abc import Sequence
from datetime import timedelta
from itertools import groupby
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

MESSAGE = "rows of this table are only ever added"
MICROSECOND = timedelta(microseconds=1)
TAKEN = {
    "confirmation": "id = NEW.id",
    "precondition_text": "digest = NEW.digest",
    "precondition_list": "digest = NEW.digest",
    "confirmed_together": (
        "id = NEW.id OR (card_id = NEW.card_id AND by_id = NEW.by_id "
        "AND arrived_at = NEW.arrived_at)"
    ),
}
NEW = ("confirmed_together", "precondition_list", "precondition_text")
TIME = sa.DateTime(timezone=True)

CONFIRMATION = sa.table(
    "confirmation",
    sa.column("id", sa.Uuid()),
    sa.column("card_id", sa.Uuid()),
    sa.column("code"),
    sa.column("text"),
    sa.column("state"),
    sa.column("reason"),
    sa.column("by_id", sa.Uuid()),
    sa.column("at", TIME),
    sa.column("arrived_at", TIME),
)
TEXT = sa.table("precondition_text", sa.column("digest"), sa.column("text"))
LIST = sa.table("precondition_list", sa.column("digest"), sa.column("items", sa.JSON()))
TOGETHER = sa.table(
    "confirmed_together",
    sa.column("id", sa.Uuid()),
    sa.column("card_id", sa.Uuid()),
    sa.column("by_id", sa.Uuid()),
    sa.column("at", TIME),
    sa.column("arrived_at", TIME),
    sa.column("list_digest"),
    sa.column("items", sa.JSON()),
)


def upgrade() -> None:
    """Put together what came together, and drop the rows of each."""
    for name, column in (("text", sa.Text()), ("list", sa.JSON())):
        table = f"precondition_{name}"
        op.create_table(
            table,
            sa.Column("digest", sa.Text(), nullable=False),
            sa.Column("text" if name == "text" else "items", column, nullable=False),
            sa.PrimaryKeyConstraint("digest", name=op.f(f"pk_{table}")),
            sqlite_strict=True,
        )
    op.create_table(
        "confirmed_together",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("arrived_at", TIME, nullable=False),
        sa.Column("list_digest", sa.Text(), nullable=False),
        sa.Column("items", sa.JSON(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        _names("confirmed_together", "card_id", "card"),
        _names("confirmed_together", "by_id", "person"),
        _names("confirmed_together", "list_digest", "precondition_list", "digest"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_confirmed_together")),
        sa.UniqueConstraint(
            "card_id",
            "by_id",
            "arrived_at",
            name=op.f("uq_confirmed_together_card_id_by_id_arrived_at"),
        ),
        sqlite_strict=True,
    )
    _put_together()
    op.drop_table("confirmation")
    _guard(*NEW)


def downgrade() -> None:
    """Take every row apart again."""
    op.create_table(
        "confirmation",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("arrived_at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "state IN ('confirmed', 'not_applicable')",
            name=op.f("ck_confirmation_state"),
        ),
        _names("confirmation", "by_id", "person"),
        _names("confirmation", "card_id", "card"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_confirmation")),
        sqlite_strict=True,
    )
    op.create_index("ix_confirmation_card_id_code", "confirmation", ["card_id", "code"])
    _take_apart()
    for table in NEW:
        op.drop_table(table)
    _guard("confirmation")


def _names(
    table: str, column: str, other: str, key: str = "id"
) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{other}")
    return sa.ForeignKeyConstraint([column], [f"{other}.{key}"], name=name)


def _put_together() -> None:
    texts: dict[str, str] = {}
    lists: dict[str, list[Any]] = {}
    rows = []
    came = ("card_id", "by_id", "arrived_at")
    order = [CONFIRMATION.c[name] for name in (*came, "at", "code", "id")]
    found = op.get_bind().execute(sa.select(CONFIRMATION).order_by(*order)).mappings()
    for _, group in groupby(found.all(), lambda row: [row[name] for name in came]):
        # By their bytes: the order of texts is the database's own.
        own = sorted(group, key=lambda row: (row["at"], row["code"], row["id"]))
        texts |= {_digest(row["text"]): row["text"] for row in own}
        answers = [[row["code"], _digest(row["text"]), row["state"]] for row in own]
        written = json.dumps(answers, ensure_ascii=False, separators=(",", ":"))
        lists[_digest(written)] = answers
        rows.append(
            {
                **{name: own[0][name] for name in ("id", *came, "at")},
                "list_digest": _digest(written),
                "items": [_item(row, own[0]) for row in own],
            }
        )
    _add(TEXT, [{"digest": key, "text": text} for key, text in texts.items()])
    _add(LIST, [{"digest": key, "items": items} for key, items in lists.items()])
    _add(TOGETHER, rows)


def _item(row: Any, first: Any) -> list[Any]:
    after = (row["at"] - first["at"]) // MICROSECOND
    return [row["id"].hex, after, *([] if row["reason"] is None else [row["reason"]])]


def _take_apart() -> None:
    run = op.get_bind().execute
    texts = {row.digest: row.text for row in run(sa.select(TEXT))}
    lists = {row.digest: row.items for row in run(sa.select(LIST))}
    rows = []
    for row in run(sa.select(TOGETHER)).mappings().all():
        pairs = zip(lists[row["list_digest"]], row["items"], strict=True)
        for (code, digest, state), (key, after, *reason) in pairs:
            rows.append(
                {
                    **{name: row[name] for name in ("card_id", "by_id", "arrived_at")},
                    "id": UUID(key),
                    "code": code,
                    "text": texts[digest],
                    "state": state,
                    "reason": reason[0] if reason else None,
                    "at": row["at"] + after * MICROSECOND,
                }
            )
    _add(CONFIRMATION, rows)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


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
