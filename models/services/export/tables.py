"""Which tables belong to a site, a lineup or a round: told by the schema itself.

A table that is added later is exported as soon as one of its keys leads to a thing
that is. What is not exported stands in NOT_EXPORTED, with the reason.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Column, LargeBinary, Table
from sqlalchemy.orm import Mapper

from models.schema import Base

NOT_EXPORTED = {
    "edition_choice": "how an installation works, not what it found",
    "first_start": "the code of an installation's first minutes",
    "invitation": "lets somebody enrol",
    "log_entry": "is in log.jsonl",
    "person_role": "what somebody may do here is no part of a record",
    "plan_draft": "what a lead has not opened yet: nothing of it is a record",
    "receipt": "keys of a tablet's messages: what they brought is in the record",
    "site_assignment": "what somebody may see here is no part of a record",
    "throttle": "guards passwords",
    "tablet_round": "what a tablet still holds: nothing of it is a record yet",
    "tablet_share": "opens what a tablet holds sealed",
    "table_check": "an organisation's own copies of published tables",
}
# Of these, some columns alone: names and certificates, never a secret.
ONLY = {
    "authority": ("id", "certificate_pem", "created_at"),
    "person": ("id", "name", "organisation_id"),
    "signing_key": (
        *("id", "person_id", "certificate_pem", "created_at", "revoked_at"),
    ),
}
WHOLE = ("authority", "precondition_text")  # what is not told by a key: all rows
OF_PEOPLE = ("signing_key",)  # by the people who are named


def mappers() -> Iterable[Mapper[Any]]:
    """Return what maps each table."""
    return Base.registry.mappers


def table(name: str) -> Table:
    """Return a table by its name."""
    return Base.metadata.tables[name]


def columns(name: str) -> list[Column[Any]]:
    """Return the columns that are exported: none that holds a file or a secret."""
    only = ONLY.get(name)
    return [
        column
        for column in table(name).columns
        if (only is None or column.name in only)
        and not isinstance(column.type, LargeBinary)
    ]


def key_of(name: str) -> Column[Any]:
    """Return the column that rows are told apart by; the first of several."""
    return next(iter(table(name).primary_key.columns))


def references(name: str) -> Iterator[tuple[Column[Any], str]]:
    """Yield each column of a table that names a row of another table, and which."""
    exported = {column.name for column in columns(name)}
    for found in sorted(table(name).foreign_keys, key=lambda one: one.parent.name):
        other = found.column.table.name
        if other != name and found.parent.name in exported:
            yield found.parent, other


def below(*roots: str, without: frozenset[str] = frozenset()) -> tuple[str, ...]:
    """Return the tables whose rows belong to rows of *roots*, the nearest first."""
    found = [*roots]
    for one in found:  # grows while it is walked
        for name in sorted(Base.metadata.tables):
            if name in found or name in NOT_EXPORTED or name in without:
                continue
            if any(other == one for _, other in references(name)):
                found.append(name)
    return tuple(found)


OF_A_ROUND = below("round")
# What has a place in a round goes with its round, though it names gear too.
OF_GEAR = below("lineup", without=frozenset(OF_A_ROUND))
OF_A_SITE = below("site", without=frozenset(OF_A_ROUND))
OF_INSTRUMENTS = below("instrument", without=frozenset(OF_A_ROUND + OF_A_SITE))
OF_FILES = ("attachment", "attachment_withdrawal")  # their thing is no key
