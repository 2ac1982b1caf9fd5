"""A tablet says that it is here, and gets what opens its person's entries on it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.schema import Tablet, TabletShare
from models.services.people.access import person_of, require
from models.services.tablets.read_tablet import known_words, tablet_id
from models.services.tablets.revoked import require_admitted

SHARE_BYTES = 32  # an AES-256 key


@dataclass(frozen=True, slots=True)
class Known:
    """A tablet as the server knows it now, and the person's share on it."""

    id: UUID
    label: str
    share: bytes


def hello(
    session: Session,
    *,
    person_id: UUID,
    said: Mapping[str, Any],
    now: datetime,
    new_share: bytes,
) -> Known:
    """Note that the person is at this tablet; return their share on it.

    *said*: tablet (its id), label, program and browser. *new_share*: 32 random bytes,
    kept where there is none yet. Raises ForbiddenError for who records nothing,
    RevokedTabletError for a tablet that was revoked, InputError for words that
    cannot be kept.
    """
    person = person_of(session, person_id)
    require(person, "record")
    key, words = tablet_id(said), known_words(said)
    require_admitted(session, key)
    tablet = session.get(Tablet, key)
    if tablet is None:
        tablet = Tablet(id=key, first_at=now)
        session.add(tablet)
    tablet.label, tablet.program, tablet.browser = words
    tablet.last_at, tablet.last_by_id = now, person.id
    session.flush()
    kept = session.get(TabletShare, (key, person.id))
    if kept is None:
        kept = TabletShare(
            tablet_id=key, person_id=person.id, share=new_share, made_at=now
        )
        session.add(kept)
    return Known(id=key, label=tablet.label, share=kept.share)
