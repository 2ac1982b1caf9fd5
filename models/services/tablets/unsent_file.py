"""A file with what a tablet had unsent: read, and opened by the server's share."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.schema import Person, Round, Tablet, TabletAct, TabletShare
from models.services.people.access import person_of, require, round_of
from models.services.tablets.read_tablet import is_revoked
from models.signing.sealed_here import open_sealed

FORMAT = "witnessmark-unsent-1"
KINDS = ("outbox", "aside", "back")  # waiting, set aside, came back to the tablet
MOST = 20_000  # entries of a file: many times a day's


@dataclass(frozen=True, slots=True, kw_only=True)
class UnsentRound:
    """What the file has of a round, in the order of recording."""

    round: Round
    entries: list[dict[str, Any]]
    photos: int

    @property
    def oldest(self) -> datetime | None:
        """When the first of them was recorded, as the tablet said it."""
        times = [at for one in self.entries if (at := _time(one.get("at")))]
        return min(times, default=None)


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
        return sum(one.photos for one in self.rounds)


def open_unsent(session: Session, *, person_id: UUID, data: bytes) -> UnsentFile:
    """Return what the file holds; nothing is stored.

    Raises InputError where it is no such file, is of another installation, or was
    changed: then nothing of it can be taken in.
    """
    bringer = person_of(session, person_id)
    require(bringer, "lead")
    body = _body(data)
    tablet = session.get(Tablet, _id(body.get("tablet")))
    author = session.get(Person, _id(_member(body, "person").get("id")))
    if tablet is None or author is None:
        raise _fault(
            "It is of a tablet, or of a person, that this server does not know."
        )
    key = _key(session, body, tablet, author)
    rounds = [
        _round(session, bringer, author, key, one) for one in _list(body, "rounds")
    ]
    if not any(one.entries or one.photos for one in rounds):
        raise _fault("There is nothing unsent in it.")
    if sum(len(one.entries) for one in rounds) > MOST:
        raise _fault(f"It has more than {MOST} entries.")
    acts = [act for act in tablet.acts if act.act == "revoke"]
    return UnsentFile(
        tablet=tablet,
        author=author,
        device=tablet.label,
        revoked=acts[-1] if is_revoked(tablet) else None,
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


def _round(
    session: Session, bringer: Person, author: Person, key: bytes | None, said: Any
) -> UnsentRound:
    if not isinstance(said, dict):
        raise _fault("One of its rounds cannot be read.")
    try:
        found = round_of(session, bringer, _id(said.get("round")))
    except NotFoundError as error:
        raise _fault("One of its rounds is none that you see.") from error
    own = bringer.id == author.id
    entries = [
        _entry(found.id, author, key, one, own=own) for one in _list(said, "entries")
    ]
    return UnsentRound(round=found, entries=entries, photos=len(_list(said, "photos")))


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
