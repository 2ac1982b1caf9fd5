"""Say what an instrument reads and applies range by range.

Revision 0014, after 0013.

The accuracy, the supplies and the greatest values of an instrument become rows; its
maker, its type and the day of its retirement are new. Both directions are tested with
rows before and after, on SQLite and PostgreSQL. There is no way down once an instrument
has what one accuracy cannot say.
Import nothing of ours here: a revision must read the same in ten years.
"""

from typing import Any

import sqlalchemy as sa
from alembic import op, util

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

RANGE = sa.table(
    "instrument_range",
    sa.column("instrument_id", sa.Uuid()),
    sa.column("position", sa.Integer()),
    *(sa.column(name, sa.Text()) for name in ("does", "unit", "supply")),
    *(
        sa.column(name, sa.Double())
        for name in (
            *("low", "high", "pct_reading", "pct_range", "digits"),
            *("resolution", "fixed"),
        )
    ),
)
INSTRUMENT = sa.table(
    "instrument",
    sa.column("id", sa.Uuid()),
    sa.column("tag", sa.Text()),
    sa.column("procedures", sa.JSON()),
    sa.column("accuracy_pct", sa.Double()),
    sa.column("accuracy_fixed", sa.Double()),
    sa.column("accuracy_unit", sa.Text()),
    sa.column("supplies", sa.JSON()),
    sa.column("greatest", sa.JSON()),
)
# The unit of a condition by the end of its name, as it was before.
UNITS = {"_kv": "kV", "_v": "V", "_a": "A"}
NAMES = {"kV": "test_kv", "V": "test_v", "A": "test_current_a"}
# How much of the base unit of its quantity a unit is.
SIZES = {
    "uOhm": 1e-6,
    "mOhm": 1e-3,
    "Ohm": 1.0,
    "kOhm": 1e3,
    "MOhm": 1e6,
    "GOhm": 1e9,
    "TOhm": 1e12,
    "s": 1.0,
    "ms": 1e-3,
    "Pa": 1.0,
    "mbar": 100.0,
}


def upgrade() -> None:
    """Make the rows, then take the columns away."""
    op.create_table(
        "instrument_range",
        sa.Column("instrument_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("does", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=True),
        sa.Column("supply", sa.Text(), nullable=True),
        sa.Column("low", sa.Double(), nullable=True),
        sa.Column("high", sa.Double(), nullable=True),
        sa.Column("pct_reading", sa.Double(), nullable=True),
        sa.Column("pct_range", sa.Double(), nullable=True),
        sa.Column("digits", sa.Double(), nullable=True),
        sa.Column("resolution", sa.Double(), nullable=True),
        sa.Column("fixed", sa.Double(), nullable=True),
        sa.CheckConstraint(
            "does IN ('reads', 'applies')", name=op.f("ck_instrument_range_does")
        ),
        sa.CheckConstraint(
            "supply IN ('ac', 'dc')", name=op.f("ck_instrument_range_supply")
        ),
        sa.CheckConstraint(
            "(low IS NULL) = (high IS NULL)",
            name=op.f("ck_instrument_range_both_ends"),
        ),
        sa.CheckConstraint(
            "low < high", name=op.f("ck_instrument_range_low_below_high")
        ),
        sa.ForeignKeyConstraint(
            ["instrument_id"],
            ["instrument.id"],
            name=op.f("fk_instrument_range_instrument_id_instrument"),
        ),
        sa.PrimaryKeyConstraint(
            "instrument_id", "position", name=op.f("pk_instrument_range")
        ),
        sqlite_strict=True,
    )
    for row in op.get_bind().execute(sa.select(INSTRUMENT)).mappings().all():
        for position, one in enumerate(_ranges(dict(row)), start=1):
            own = {"instrument_id": row["id"], "position": position, **one}
            op.execute(RANGE.insert().values(**own))
    for column in ("maker", "type"):
        op.add_column("instrument", sa.Column(column, sa.Text(), nullable=True))
    op.add_column("instrument", sa.Column("retired_on", sa.Date(), nullable=True))
    for column in ("accuracy_pct", "accuracy_fixed", "accuracy_unit"):
        op.drop_column("instrument", column)
    for column in ("supplies", "greatest"):
        op.drop_column("instrument", column)


def _ranges(row: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the ranges of an instrument: what it reads, then what it applies."""
    greatest = dict(row["greatest"] or {})
    most, unit = greatest.pop("reading", None), greatest.pop("reading_unit", None)
    found = []
    pct, fixed = row["accuracy_pct"], row["accuracy_fixed"]
    if (pct, fixed, most) != (None, None, None):
        stated = row["accuracy_unit"]
        if most is not None and stated and stated != unit:
            most, unit = most * SIZES[unit] / SIZES[stated], stated
        found.append(
            {
                "does": "reads",
                "unit": unit or stated,
                "low": None if most is None else 0.0,
                "high": most,
                "pct_reading": pct,
                "fixed": fixed,
            }
        )
    levels = {
        name: (UNITS[end], value)
        for name, value in greatest.items()
        for end in UNITS
        if name.endswith(end) and (end != "_v" or not name.endswith("_kv"))
    }
    for supply in row["supplies"] or (None,):
        for level_unit, value in list(levels.values()):
            own = {"unit": level_unit, "low": 0.0, "high": value}
            found.append({"does": "applies", "supply": supply, **own})
        if supply and not levels:
            found.append({"does": "applies", "supply": supply, "unit": "kV"})
    return found


def downgrade() -> None:
    """Put the columns back.

    Raises CommandError, before anything is taken away, where they cannot say it.
    """
    rows = [dict(row) for row in _rows().mappings()]
    _refuse(rows)
    for column in ("accuracy_pct", "accuracy_fixed"):
        op.add_column("instrument", sa.Column(column, sa.Double(), nullable=True))
    op.add_column("instrument", sa.Column("accuracy_unit", sa.Text(), nullable=True))
    for column in ("supplies", "greatest"):
        op.add_column("instrument", sa.Column(column, sa.JSON(), nullable=True))
    for key in {row["instrument_id"]: None for row in rows}:
        own = [row for row in rows if row["instrument_id"] == key]
        op.execute(INSTRUMENT.update().filter_by(id=key).values(**_columns(own)))
    op.drop_table("instrument_range")
    for column in ("retired_on", "type", "maker"):
        op.drop_column("instrument", column)


def _rows() -> Any:
    return op.get_bind().execute(
        sa.select(RANGE).order_by(RANGE.c.instrument_id, RANGE.c.position)
    )


def _refuse(rows: list[dict[str, Any]]) -> None:
    reads = [row["instrument_id"] for row in rows if row["does"] == "reads"]
    lost = {key for key in reads if reads.count(key) > 1}
    lost |= {r["instrument_id"] for r in rows if r["pct_range"] or r["digits"]}
    retired = op.get_bind().scalar(
        sa.text("SELECT count(*) FROM instrument WHERE retired_on IS NOT NULL")
    )
    if lost or retired:
        raise util.CommandError(
            f"Revision 0014 stays: {len(lost)} instruments have an accuracy by range, "
            f"{retired} are retired, and below it nothing would say so. Nothing was "
            "changed. Go back to a backup made before instead."
        )


def _columns(rows: list[dict[str, Any]]) -> dict[str, Any]:
    """Return what the columns held: the accuracy, the supplies, the greatest."""
    greatest: dict[str, Any] = {}
    found: dict[str, Any] = {}
    for row in rows:
        if row["does"] == "applies" and row["high"] is not None:
            greatest[NAMES[row["unit"]]] = row["high"]
        elif row["does"] == "reads":
            found["accuracy_pct"], found["accuracy_fixed"] = (
                row["pct_reading"],
                row["fixed"],
            )
            found["accuracy_unit"] = row["unit"]
            if row["high"] is not None:
                greatest |= {"reading": row["high"], "reading_unit": row["unit"]}
    supplies = [r["supply"] for r in rows if r["does"] == "applies" and r["supply"]]
    found["supplies"] = list(dict.fromkeys(supplies)) or sa.null()
    found["greatest"] = greatest or sa.null()
    return found
