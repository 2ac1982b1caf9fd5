"""Who recorded, decided and signed in a round: role and key as they were then."""

from collections.abc import Iterable
from datetime import datetime

from models.schema import (
    Deficiency,
    Disposition,
    Note,
    Person,
    Reading,
    Signature,
    SigningKey,
)
from models.schema.confirmations import Confirmation
from models.services.field.card_facts import CardFacts
from models.services.people.access import acting_role
from models.signing import seals

Act = Confirmation | Reading | Note | Deficiency | Disposition | Signature


def package_people(facts: Iterable[CardFacts]) -> list[dict[str, str]]:
    """Return each person once with every key that was theirs at one of their acts.

    A later change of roles, or a new key, changes nothing of what was done before:
    a package that somebody signed stands.
    """
    roles: dict[tuple[Person, SigningKey], set[str]] = {}
    for one in facts:
        acts: list[Act] = [
            *one.confirmations,
            *one.readings,
            *one.notes,
            *one.deficiencies,
            *one.dispositions,
            *one.signatures,
        ]
        for act in acts:
            doing, at = _doing(act), _came(act)
            held = roles.setdefault((act.by, _key_at(act.by, at)), set())
            held.add(acting_role(act.by, doing, at))
    found = sorted(roles, key=lambda pair: (pair[0].name, pair[1].created_at))
    return [
        {
            "name": person.name,
            "role": ", ".join(sorted(roles[person, key])),
            "organisation": person.organisation.name,
            "key": seals.fingerprint(key.certificate_pem),
        }
        for person, key in found
    ]


def _doing(act: Act) -> str:
    return "lead" if isinstance(act, Disposition) else "record"


def _came(act: Act) -> datetime:
    """Return when the act reached the record: a tablet's own time says less."""
    return act.at if isinstance(act, Disposition | Signature) else act.arrived_at


def _key_at(person: Person, at: datetime) -> SigningKey:
    """Return the key that was theirs; the first one before there was any."""
    before = [key for key in person.keys if key.created_at <= at]
    return before[-1] if before else person.keys[0]
