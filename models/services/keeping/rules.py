"""Rules by digest: each stored once, and read once."""

import hashlib
from collections.abc import Iterable, Mapping
from typing import Any
from weakref import WeakKeyDictionary

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.judging import Rule
from models.schema import StoredRule
from models.schema.written import canonical

AT_ONCE = 500  # digests in one statement


def rule_digest(rule: Mapping[str, Any]) -> str:
    """Return the SHA-256 of the rule's canonical JSON, in hex."""
    return hashlib.sha256(canonical(rule).encode()).hexdigest()


def keep_rules(session: Session, rules: Iterable[Mapping[str, Any]]) -> None:
    """Store those of *rules* that are not there yet."""
    wanted = {rule_digest(rule): rule for rule in rules}
    known = {row.digest for row in stored_rules(session, wanted)}
    for digest in wanted.keys() - known:
        session.add(StoredRule(digest=digest, body=dict(wanted[digest])))
    session.flush()


def stored_rules(session: Session, digests: Iterable[str]) -> list[StoredRule]:
    """Return the stored rules of these digests; a digest without one is left out.

    While they are held, what names them finds them without another query.
    """
    wanted = sorted(set(digests))
    found: list[StoredRule] = []
    for at in range(0, len(wanted), AT_ONCE):
        part = StoredRule.digest.in_(wanted[at : at + AT_ONCE])
        found += session.scalars(select(StoredRule).where(part)).all()
    return found


# A row's body and the rule read from it: a row that is loaded anew has another body.
_READ: WeakKeyDictionary[StoredRule, tuple[object, Rule]] = WeakKeyDictionary()


def read_rule(row: StoredRule) -> Rule:
    """Return a stored rule as the core reads it; CriteriaError where it cannot."""
    known = _READ.get(row)
    if known is None or known[0] is not row.body:
        _READ[row] = known = (row.body, Rule.from_json(row.body))
    return known[1]
