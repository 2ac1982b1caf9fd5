"""Store each rule once, by its digest, and of a judgement verdict and numbers only.

Revision 0007, after 0006.

Reason, working and sources of a judgement are worked out from its rule and reading.
Entries of the log that were written before hold rule and judgement whole; they stay
as they are, and `check` holds the rows to them. Where somebody judged again before,
the log has a digest over the judgements as they were said: those are kept.
Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Downwards a judgement gets its verdict and numbers without words, for they cannot be
worked out here; upwards again nothing is missing.
Import nothing of ours here: a revision must read the same in ten years.
"""

import hashlib
import json
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from typing import Any

import sqlalchemy as sa
from alembic import op
from alembic.operations import BatchOperations

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

MESSAGE = "rows of this table are only ever added"
STRICT = {"sqlite_strict": True}  # on SQLite the tables are copied
TAKEN = {
    "judgement": "id = NEW.id OR (reading_id = NEW.reading_id AND seq = NEW.seq)",
    "reading": "id = NEW.id OR supersedes_id = NEW.supersedes_id",
    "rule": "digest = NEW.digest",
}
NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")
JUDGED_AGAIN = "judged again"
# Named checks of the tables that are copied: they are not read back from SQLite.
CHECKS = {
    "judgement": (
        ("verdict", "verdict IN ('within', 'marginal', 'outside', 'unjudged')"),
    ),
    "reading": (
        ("interval", "low IS NULL OR high IS NULL OR low <= high"),
        ("superseding_reason", "supersedes_id IS NULL OR reason IS NOT NULL"),
    ),
    "point": (),
}


def upgrade() -> None:
    """Add the table of rules, name them by digest, and drop what they replace."""
    op.create_table(
        "rule",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_rule")),
        sqlite_strict=True,
    )
    _unguard("judgement", "reading")
    for table in ("point", "reading", "judgement"):
        op.add_column(table, sa.Column("rule_digest", sa.Text(), nullable=True))
    for name in NUMBERS[1:]:
        op.add_column("judgement", sa.Column(name, sa.Double(), nullable=True))
    op.add_column("judgement", sa.Column("log_seq", sa.Integer(), nullable=True))
    op.add_column("judgement", sa.Column("as_said", sa.JSON(), nullable=True))
    _name_rules()
    _take_numbers()
    for table in ("point", "reading"):
        with _copied(table) as copy:
            copy.alter_column("rule_digest", existing_type=sa.Text(), nullable=False)
            copy.create_foreign_key(
                op.f(f"fk_{table}_rule_digest_rule"),
                "rule",
                ["rule_digest"],
                ["digest"],
            )
            copy.drop_column("rule")
    with _copied("judgement") as copy:
        copy.alter_column("log_seq", existing_type=sa.Integer(), nullable=False)
        copy.create_foreign_key(
            op.f("fk_judgement_rule_digest_rule"), "rule", ["rule_digest"], ["digest"]
        )
        for name in ("rule", "body", "cause"):
            copy.drop_column(name)
    _guard("judgement", "reading", "rule")


def downgrade() -> None:
    """Put every rule back where it was named; judgements have no words any more."""
    _unguard("judgement", "reading", "rule")
    for table in ("point", "reading", "judgement"):
        op.add_column(table, sa.Column("rule", sa.JSON(), nullable=True))
    op.add_column("judgement", sa.Column("body", sa.JSON(), nullable=True))
    op.add_column("judgement", sa.Column("cause", sa.Text(), nullable=True))
    _put_rules_back()
    _put_bodies_back()
    for table in ("point", "reading"):
        with _copied(table) as copy:
            copy.drop_constraint(
                op.f(f"fk_{table}_rule_digest_rule"), type_="foreignkey"
            )
            copy.alter_column("rule", existing_type=sa.JSON(), nullable=False)
            copy.drop_column("rule_digest")
    with _copied("judgement") as copy:
        copy.drop_constraint(op.f("fk_judgement_rule_digest_rule"), type_="foreignkey")
        copy.alter_column("body", existing_type=sa.JSON(), nullable=False)
        copy.alter_column("cause", existing_type=sa.Text(), nullable=False)
        for name in (*NUMBERS[1:], "log_seq", "as_said", "rule_digest"):
            copy.drop_column(name)
    op.drop_table("rule")
    _guard("judgement", "reading")


def _copied(table: str) -> AbstractContextManager[BatchOperations]:
    """Alter a table; on SQLite a copy of it takes its place."""
    checks = [
        sa.CheckConstraint(text, name=op.f(f"ck_{table}_{name}"))
        for name, text in CHECKS[table]
    ]
    if op.get_bind().dialect.name != "sqlite":
        checks = []
    return op.batch_alter_table(table, table_kwargs=STRICT, table_args=checks)


# Rows


def _name_rules() -> None:
    """Move every rule to its own table, and name it where it stood."""
    digests = {}
    for table in ("point", "reading", "judgement"):
        named = []
        for key, text in _texts(table, "rule"):
            if text in (None, "null"):
                continue
            if text not in digests:
                digests[text] = _keep(json.loads(text))
            named.append({"key": key, "digest": digests[text]})
        _set(table, named, rule_digest=sa.bindparam("digest"))


def _keep(rule: dict[str, Any]) -> str:
    """Store a rule that is not there yet; return its digest."""
    text = json.dumps(rule, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    digest = hashlib.sha256(text.encode()).hexdigest()
    there = sa.select(RULE.c.digest).where(RULE.c.digest == digest)
    if op.get_bind().scalar(there) is None:
        op.get_bind().execute(sa.insert(RULE).values(digest=digest, body=rule))
    return digest


def _take_numbers() -> None:
    """Take the numbers out of every judgement, and find the entry it came with."""
    entries = _entries()
    rows = []
    columns = (JUDGEMENT.c.id, JUDGEMENT.c.cause, JUDGEMENT.c.rejudging_id)
    for key, cause, act, body in op.get_bind().execute(
        sa.select(*columns, JUDGEMENT.c.body)
    ):
        came_with = cause.removeprefix("reading ") if act is None else act
        rows.append(
            {
                "key": key,
                "seq": entries.get(str(came_with).replace("-", ""), 0),
                "said": body if act is not None and body["working"] else sa.null(),
                **{f"new_{name}": body[name] for name in NUMBERS[1:]},
            }
        )
    for row in rows:
        said = row.pop("said")
        if isinstance(said, dict):
            _set("judgement", [{"key": row["key"], "said": said}], as_said=SAID)
    numbers = {name: sa.bindparam(f"new_{name}") for name in NUMBERS[1:]}
    _set("judgement", rows, log_seq=sa.bindparam("seq"), **numbers)


def _entries() -> dict[str, int]:
    """Return the number of the log entry of each reading and act of judging again."""
    wanted = LOG.c.action.in_(("reading", "judge again"))
    found = {}
    for seq, body in op.get_bind().execute(
        sa.select(LOG.c.seq, LOG.c.body).where(wanted)
    ):
        try:
            said = json.loads(body)
            found[(said.get("key") or said["rejudging"]).replace("-", "")] = seq
        except (ValueError, KeyError, AttributeError):
            continue  # `check` says so of the entry itself
    return found


def _put_rules_back() -> None:
    bodies = dict(op.get_bind().execute(sa.select(RULE.c.digest, RULE.c.body)).all())
    for table in ("point", "reading", "judgement"):
        rows = [
            {"key": key, "value": bodies[digest]}
            for key, digest in _texts(table, "rule_digest")
            if digest is not None
        ]
        _set(table, rows, rule=sa.bindparam("value", type_=sa.JSON()))


def _put_bodies_back() -> None:
    causes = {seq: f"reading {key}" for key, seq in _entries_by_key()}
    rows = []
    for row in op.get_bind().execute(sa.select(JUDGEMENT)).mappings().all():
        words = {"value": None, "unit": None, "corrected_unit": None}
        words |= {"reason": "", "cite": [], "working": []}
        numbers = {name: row[name] for name in ("verdict", *NUMBERS)}
        again = row["rejudging_id"] is not None
        rows.append(
            {
                "key": row["id"],
                "value": row["as_said"] or {**words, **numbers},
                "why": JUDGED_AGAIN if again else causes.get(row["log_seq"], ""),
            }
        )
    _set(
        "judgement",
        rows,
        body=sa.bindparam("value", type_=sa.JSON()),
        cause=sa.bindparam("why"),
    )


def _entries_by_key() -> Iterator[tuple[str, int]]:
    for seq, body in op.get_bind().execute(
        sa.select(LOG.c.seq, LOG.c.body).where(LOG.c.action == "reading")
    ):
        yield json.loads(body)["key"], seq


def _texts(table: str, column: str) -> Sequence[Any]:
    """Return id and text of a column, row by row."""
    rows = sa.table(table, sa.column("id", sa.Uuid()), sa.column(column))
    text = sa.cast(rows.c[column], sa.Text())
    return op.get_bind().execute(sa.select(rows.c.id, text)).all()


def _set(table: str, rows: list[dict[str, Any]], **values: Any) -> None:
    """Set columns of the rows with these keys."""
    if rows:
        there = sa.table(
            table, sa.column("id", sa.Uuid()), *(sa.column(name) for name in values)
        )
        wanted = there.c.id == sa.bindparam("key", type_=sa.Uuid())
        op.get_bind().execute(sa.update(there).where(wanted).values(values), rows)


RULE = sa.table("rule", sa.column("digest"), sa.column("body", sa.JSON()))
LOG = sa.table("log_entry", sa.column("seq"), sa.column("action"), sa.column("body"))
SAID = sa.bindparam("said", type_=sa.JSON())
JUDGEMENT = sa.table(
    "judgement",
    sa.column("id", sa.Uuid()),
    sa.column("rejudging_id", sa.Uuid()),
    sa.column("cause"),
    sa.column("body", sa.JSON()),
    sa.column("as_said", sa.JSON()),
    sa.column("log_seq"),
    sa.column("verdict"),
    *(sa.column(name) for name in NUMBERS),
)


# Guards


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


def _unguard(*tables: str) -> None:
    for table in tables:
        if op.get_bind().dialect.name != "sqlite":
            op.execute(f"DROP TRIGGER {table}_append_only ON {table}")
            continue
        for verb in ("update", "delete", "replace"):
            op.execute(f"DROP TRIGGER {table}_no_{verb}")
