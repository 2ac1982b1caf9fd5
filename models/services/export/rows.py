"""Every row of a scope, table by table, as it is stored."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, and_, false, func, or_, select
from sqlalchemy.orm import Session

from models.schema import Base
from models.schema.attachments import SUBJECTS
from models.services.export import tables
from models.services.export.scope import Scope
from models.services.keeping.log import stamp
from models.services.safety.load_acts import LONGEST_SHIFT

AT_ONCE = 500  # rows in memory
LATER = tables.OF_INSTRUMENTS[1:] + tables.OF_FILES  # told by what was named
Keys = dict[str, set[Any]]


class ScopeRows:
    """The rows of a scope: those that belong to it, and those that they name.

    What belongs to a round can be many: it is asked for by a condition. What is
    named (people, instruments, rules, ...) is little and is kept as keys.
    """

    def __init__(self, session: Session, scope: Scope) -> None:
        """Find what the rows of the scope name, and what that names in turn."""
        self.session, self.scope = session, scope
        self._side = tables.OF_A_SITE if scope.kind == "site" else tables.OF_GEAR
        self._named: Keys = {}
        self._find_named()

    def tables(self) -> Iterator[str]:
        """Yield the names of the tables that have rows here, in their order."""
        for name in sorted(Base.metadata.tables):
            if name in tables.NOT_EXPORTED:
                continue
            found = select(tables.key_of(name)).where(self._holds(name)).limit(1)
            if self.session.execute(found).first() is not None:
                yield name

    def rows(self, name: str) -> Iterator[dict[str, Any]]:
        """Yield the rows of a table as plain JSON, in the order of their keys."""
        wanted = tables.columns(name)
        order = list(tables.table(name).primary_key.columns)
        found = select(*wanted).where(self._holds(name)).order_by(*order)
        result = self.session.execute(found.execution_options(yield_per=AT_ONCE))
        for row in result.mappings():
            yield {column.name: plain(row[column]) for column in wanted}

    def keys_of(self, name: str) -> Iterator[Any]:
        """Yield the keys of a table's rows."""
        found = select(tables.key_of(name)).where(self._holds(name))
        result = self.session.execute(found.execution_options(yield_per=AT_ONCE))
        yield from result.scalars()

    def _holds(self, name: str) -> ColumnElement[bool]:
        """Return the condition that a row of the table is exported by."""
        if name in tables.WHOLE:
            return tables.key_of(name).is_not(None)
        if name in tables.OF_PEOPLE:
            return tables.table(name).c.person_id.in_(self._named.get("person", ()))
        named = self._named.get(name)
        own = self._belongs(name)
        return or_(own, tables.key_of(name).in_(named)) if named else own

    def _belongs(self, name: str) -> ColumnElement[bool]:
        """Return the condition that a row belongs to the scope by."""
        roots = {"round": self.scope.round_ids, "lineup": self.scope.lineup_ids}
        if self.scope.kind == "site":
            roots["site"] = (self.scope.site_id,)
        if name in roots:
            return tables.key_of(name).in_(roots[name])
        if name == "attachment":
            return self._attached()
        if name == "safety_act":
            return self._acts()
        for side in (tables.OF_A_ROUND, self._side, tables.OF_INSTRUMENTS):
            if name in side:
                return self._below(name, side)
        return self._below(name, tables.OF_FILES)

    def _below(self, name: str, side: tuple[str, ...]) -> ColumnElement[bool]:
        """Return the condition that a row names one of a table that stands nearer."""
        nearer = side[: side.index(name)] if name in side else ()
        ways = [
            column.in_(select(tables.key_of(other)).where(self._holds(other)))
            for column, other in tables.references(name)
            if other in nearer
        ]
        return or_(false(), *ways)

    def _attached(self) -> ColumnElement[bool]:
        """Return the condition that a file's thing is in the scope."""
        told = tables.table("attachment").c
        return or_(
            *(
                and_(
                    told.subject == name,
                    told.subject_id.in_(
                        select(tables.key_of(name)).where(self._holds(name))
                    ),
                )
                for name in SUBJECTS
            )
        )

    def _acts(self) -> ColumnElement[bool]:
        """Return the condition that an act of safety belongs to the scope by.

        Those of its rounds, and those of no round, as of a crew, from the shift before
        the first of these to the shift after the last.
        """
        told, rounds = tables.table("safety_act").c, self.scope.round_ids
        of_rounds = told.round_id.in_(rounds)
        ends = select(func.min(told.at), func.max(told.at)).where(of_rounds)
        began, last = self.session.execute(ends).one()
        if last is None:
            return false()
        shared = and_(
            told.site_id == self.scope.site_id,
            told.round_id.is_(None),
            or_(told.lineup_id.is_(None), told.lineup_id.in_(self.scope.lineup_ids)),
            told.at >= began - LONGEST_SHIFT,
            told.at <= last + LONGEST_SHIFT,
        )
        return or_(of_rounds, shared)

    def _find_named(self) -> None:
        """Fill in the keys of the rows outside rounds that the scope's rows name."""
        own = dict.fromkeys(tables.OF_A_ROUND + self._side)
        new = self._named_by(own)
        while new:
            for name, keys in new.items():
                self._named.setdefault(name, set()).update(keys)
            more = self._named_by(new | dict.fromkeys(LATER))
            new = {
                name: fresh
                for name, keys in more.items()
                if (fresh := keys - self._named.get(name, set()))
            }

    def _named_by(self, rows: Mapping[str, set[Any] | None]) -> Keys:
        """Return what rows name: those of the keys given, or all that belong."""
        found: Keys = {}
        for name, keys in rows.items():
            own = self._belongs(name) if keys is None else tables.key_of(name).in_(keys)
            for column, other in tables.references(name):
                if other in tables.OF_A_ROUND or other in tables.NOT_EXPORTED:
                    continue
                asked = select(column).where(own, column.is_not(None))
                held = set(self.session.execute(asked.distinct()).scalars())
                if held:
                    found.setdefault(other, set()).update(held)
        return found


def plain(value: Any) -> Any:
    """Return a stored value as JSON has it: times in UTC, identifiers as text."""
    if isinstance(value, datetime):
        return stamp(value)
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, UUID) else value
