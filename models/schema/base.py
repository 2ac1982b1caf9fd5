"""The declarative base, column types and naming convention of every table."""

from datetime import UTC, date, datetime
from typing import Any, ClassVar
from uuid import UUID

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Date,
    DateTime,
    Dialect,
    Double,
    Enum,
    Float,
    Integer,
    LargeBinary,
    MetaData,
    SmallInteger,
    String,
    Text,
    TypeDecorator,
    Uuid,
)
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class UTCDateTime(TypeDecorator[datetime]):
    """An aware time, stored as UTC and read back as UTC.

    SQLite drops the zone, and PostgreSQL answers in the zone that the server is
    set to; hashes are taken over times as text. A naive time is a programming
    error: it raises ValueError.
    """

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(
        self, value: datetime | None, dialect: Dialect
    ) -> datetime | None:
        """Return the time as UTC; ValueError for one without a zone."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a time without a zone was given: {value!r}")
        return value.astimezone(UTC)

    def process_result_value(
        self, value: datetime | None, dialect: Dialect
    ) -> datetime | None:
        """Return the time as UTC."""
        if value is None:
            return None
        if value.tzinfo is None:
            return value.replace(tzinfo=UTC)
        return value.astimezone(UTC)


def _register_strict_types() -> None:
    """Name every type as a STRICT SQLite table wants it: TEXT, REAL, INTEGER, BLOB."""
    families: dict[str, tuple[type, ...]] = {
        "TEXT": (String, Text, Enum, JSON, DateTime, Date, Uuid),
        "REAL": (Float, Double),
        "INTEGER": (Boolean, BigInteger, SmallInteger, Integer),
        "BLOB": (LargeBinary,),
    }
    for ddl, types in families.items():
        for kind in types:

            def render(_el: Any, _comp: Any, ddl: str = ddl, **_kw: Any) -> str:
                return ddl

            compiles(kind, "sqlite")(render)


_register_strict_types()


class Base(DeclarativeBase):
    """Base of all mappings."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        datetime: UTCDateTime,
        date: Date,
        str: Text,
        float: Double,
        UUID: Uuid,
        dict[str, Any]: JSON,
        list[Any]: JSON,
        bytes: LargeBinary,
    }
    __table_args__: Any = {"sqlite_strict": True}  # noqa: RUF012 (SQLAlchemy reads it)


class Record(Base):
    """A row whose key is a UUID made where the row is born."""

    __abstract__ = True

    id: Mapped[UUID] = mapped_column(primary_key=True)
