"""A file with what a tablet had unsent: read, and opened by the server's share."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.files.receive import Limits
from models.schema import Person, Round, Tablet, TabletAct, TabletShare
from models.services.people.access import person_of, require, round_of
from models.services.tablets.revoked import revocation
from models.services.tablets.unsent_photos import (
    UnsentPhoto,
    compared,
    read_unsent_photo,
)
from models.signing.sealed_here import open_sealed

FORMAT = "witnessmark-unsent-1"
KINDS = ("outbox", "aside", "back")  # waiting, set aside, came back to the tablet
MOST = 20_000  # entries of a file: many times a day's


@dataclass(frozen=True, slots=True, kw_only=True)
class UnsentRound:
    """What the file has of a round, in the order of recording."""

    round: Round
    entries: list[dict[str, Any]]
    photos: list[UnsentPhoto]

    @property
    def oldest(self) -> datetime | None:
        """When the first of them was recorded, as the tablet said it."""
        times = [at for one in self.entries if (at := _time(one.get("at")))]
        read = [one.photograph for one in self.photos if one.photograph]
        return min(times + [one.taken_at for one in read], default=None)

    @property
    def photo_bytes(self) -> int:
        """How many bytes its photographs have together."""
        return sum(one.size for one in self.photos)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnsentFile:
    """A file that was opened: whose it is, from which tablet, and what is in it."""

    tablet: Tablet
    author: Person
    device: str
    revoked: TabletAct | None
    rounds: list[UnsentRound]

    @property
    def entries(self) -> int:
        """How many entries there are."""
        return sum(len(one.entries) for one in self.rounds)

    @property
    def photos(self) -> int:
        """How many photographs there are."""
        return sum(len(one.photos) for one in self.rounds)


def require_bringer(session: Session, person_id: UUID) -> Person:
    """Return the person if they may bring such a file; ForbiddenError else."""
    bringer = person_of(session, person_id)
    require(bringer, "lead")
    return bringer


def open_unsent(
    session: Session, *, person_id: UUID, data: bytes, limits: Limits, now: datetime
) -> UnsentFile:
    """Return what the file holds; nothing is stored.

    What stands against one of its photographs (*limits*: of a file) is said of it.

    Raises InputError where it is no such file, is of another installation, or was
    changed: then nothing of it can be taken in.
    """
    bringer = require_bringer(session, person_id)
    body = _body(data)
    tablet = session.get(Tablet, _id(body.get("tablet")))
    author = session.get(Person, _id(_member(body, "person").get("id")))
    if tablet is None or author is None:
        raise _fault(
            "It is of a tablet, or of a person, that this server does not know."
        )
    key = _key(session, body, tablet, author)
    opening = _Opening(session, bringer, author, key, limits, now)
    rounds = [_round(opening, one) for one in _list(body, "rounds")]
    if not any(one.entries or one.photos for one in rounds):
        raise _fault("There is nothing unsent in it.")
    if sum(len(one.entries) for one in rounds) > MOST:
        raise _fault(f"It has more than {MOST} entries.")
    return UnsentFile(
        tablet=tablet,
        author=author,
        device=tablet.label,
        revoked=revocation(tablet.acts),
        rounds=rounds,
    )


def said_of(
    file: UnsentFile, bringer_id: UUID, revoked_at: datetime | None
) -> dict[str, Any]:
    """Return what the log says of each entry that came in the file."""
    said: dict[str, Any] = {
        "brought_by": str(bringer_id),
        "tablet": str(file.tablet.id),
    }
    return said | ({"tablet_revoked_at": revoked_at} if revoked_at else {})


def _body(data: bytes) -> Mapping[str, Any]:
    try:
        body = json.loads(data)
    except (ValueError, RecursionError):
        body = None
    if not isinstance(body, dict) or body.get("format") != FORMAT:
        raise _fault(
            "This is no file that a tablet carried off, or it is not whole. Choose the "
            "file again as the tablet saved it."
        )
    return body


def _key(
    session: Session, body: Mapping[str, Any], tablet: Tablet, author: Person
) -> bytes | None:
    """Return the author's key on the tablet; None where nothing there is sealed."""
    if body.get("by_server") is None:
        return None
    share = session.get(TabletShare, (tablet.id, author.id))
    if share is None:
        raise _fault(f"This server never gave {author.name} a key on {tablet.label}.")
    bound = f"{tablet.id}/{author.id}"
    key = open_sealed(share.share, _member(body, "by_server"), bound)
    if key is None:
        raise _fault("Its key does not open: the file was changed, or is of elsewhere.")
    return key


@dataclass(frozen=True, slots=True)
class _Opening:
    """Who brings a file of whom, and what opens it."""

    session: Session
    bringer: Person
    author: Person
    key: bytes | None
    limits: Limits
    now: datetime

    @property
    def own(self) -> bool:
        """Whether the author brings it: they may bring what is not sealed."""
        return self.bringer.id == self.author.id

    def photo(self, round_id: UUID, said: Any) -> UnsentPhoto:
        """Return a photograph, with what stands against it."""
        found = read_unsent_photo(
            said, author=self.author.name, key=self.key, own=self.own, now=self.now
        )
        return compared(
            self.session,
            found,
            bringer_id=self.bringer.id,
            author_id=self.author.id,
            round_id=round_id,
            limits=self.limits,
        )


def _round(opening: _Opening, said: Any) -> UnsentRound:
    if not isinstance(said, dict):
        raise _fault("One of its rounds cannot be read.")
    try:
        found = round_of(opening.session, opening.bringer, _id(said.get("round")))
    except NotFoundError as error:
        raise _fault("One of its rounds is none that you see.") from error
    author, key, own = opening.author, opening.key, opening.own
    return UnsentRound(
        round=found,
        entries=[
            _entry(found.id, author, key, one, own=own)
            for one in _list(said, "entries")
        ],
        photos=[opening.photo(found.id, one) for one in _list(said, "photos")],
    )


def _entry(
    round_id: UUID, author: Person, key: bytes | None, said: Any, *, own: bool
) -> dict[str, Any]:
    """Return one entry as it was recorded."""
    if not isinstance(said, dict):
        raise _fault("One of its entries cannot be read.")
    if said.get("sealed") is None:
        if not own:
            raise _fault(
                f"Its entries are not sealed, so anybody may have written them: only "
                f"{author.name} may bring this file."
            )
        entry = said.get("entry")
    else:
        entry = _opened(key, said)
    name = str(said.get("id"))
    if not isinstance(entry, dict) or name not in {
        f"{round_id}/{kind}:{entry.get('key')}" for kind in KINDS
    }:
        raise _fault("One of its entries is not the one that it is named as.")
    return entry


def _opened(key: bytes | None, said: Mapping[str, Any]) -> Any:
    text = open_sealed(key or b"", _member(said, "sealed"), str(said.get("id")))
    if text is None:
        raise _fault("One of its entries does not open: the file was changed.")
    try:
        return json.loads(text)["entry"]
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise _fault("One of its entries cannot be read.") from error


def _member(body: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = body.get(name)
    return found if isinstance(found, dict) else {}


def _list(body: Mapping[str, Any], name: str) -> list[Any]:
    found = body.get(name, [])
    if not isinstance(found, list):
        raise _fault(f"Its {name} cannot be read.")
    return found


def _time(value: Any) -> datetime | None:
    try:
        at = datetime.fromisoformat(str(value))
        return at.astimezone(UTC) if at.tzinfo else None
    except (ValueError, OverflowError):
        return None


def _id(value: Any) -> UUID:
    try:
        return UUID(str(value))
    except ValueError as error:
        raise _fault("It names something by what is no identifier.") from error


def _fault(message: str) -> InputError:
    return InputError(Fault(field="file", message=f"{message} Nothing was stored."))
