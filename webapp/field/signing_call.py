"""What a tablet sends to sign cards: which, the password, what was in front of it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from models.errors import Fault, InputError
from models.services.keeping.texts import storable

INTENDED = ("at", "digest", "device")  # what the log keeps of a waiting signature
LONGEST = 80  # characters of each of them
DIGEST = re.compile("[0-9a-f]{64}")


@dataclass(frozen=True, slots=True, kw_only=True)
class SigningCall:
    """A call; a tablet of the version before says the cards and the password only."""

    card_ids: list[UUID]
    password: str = field(repr=False)
    seen: Mapping[UUID, frozenset[UUID]]  # by card: the readings that held
    intents: Mapping[UUID, Mapping[str, str]]  # by card: meant without signal


def read_signing_call(body: Any) -> SigningCall:
    """Return the call; InputError names what is wrong with it."""
    if not isinstance(body, dict) or not isinstance(body.get("card_ids"), list):
        raise InputError(Fault(field="card_ids", message="Choose a card to sign."))
    password = body.get("password")
    if not isinstance(password, str) or not password:
        raise InputError(
            Fault(field="password", message="Type your password: it opens your key.")
        )
    seen, intents = _by_card(body, "seen", list), _by_card(body, "intents", dict)
    return SigningCall(
        card_ids=[_id("card_ids", one) for one in body["card_ids"]],
        password=password,
        seen={
            key: frozenset(_id("seen", one) for one in ids) for key, ids in seen.items()
        },
        intents={key: _intent(said) for key, said in intents.items()},
    )


def _by_card(body: Mapping[str, Any], name: str, kind: type) -> dict[UUID, Any]:
    """Return a member that is by card; {} where it was not sent."""
    found = body.get(name) or {}
    if not isinstance(found, dict) or not all(
        isinstance(one, kind) for one in found.values()
    ):
        raise InputError(Fault(field=name, message="Say this by card."))
    return {_id(name, key): value for key, value in found.items()}


def _intent(said: Mapping[str, Any]) -> dict[str, str]:
    """Return what the log keeps of an intent."""
    found = {name: said[name] for name in INTENDED if said.get(name) is not None}
    short = all(
        isinstance(one, str) and storable(one) and len(one) <= LONGEST
        for one in found.values()
    )
    if not short or not DIGEST.fullmatch(found.get("digest", "0" * 64)):
        raise InputError(
            Fault(field="intents", message="This is no signature that waited.")
        )
    return found


def _id(name: str, value: object) -> UUID:
    try:
        return UUID(str(value))
    except ValueError as error:
        raise InputError(
            Fault(field=name, message="This is not a card's identifier.")
        ) from error
