"""Read an act as a tablet sends it: every fault by its field, several at once."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from models.errors import Fault, InputError
from models.services.field.entry import read_envelope
from models.services.safety import member_values
from models.services.safety.act_members import ACTS, EMPTY, ActKind

ENVELOPE = {"kind", "key", "at", "heard_at", "act", "person", "device"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SentAct:
    """An act with its envelope, read; *members* are its own, *act* left out."""

    key: UUID
    act: str
    at: datetime
    arrived_at: datetime
    device: str
    person: dict[str, Any] | None  # who says it, where that is somebody else
    heard_at: int | None  # the last act of others that the tablet knew of
    members: dict[str, Any]

    @property
    def kind(self) -> ActKind:
        """What acts of its kind have."""
        return ACTS[self.act]

    @property
    def about(self) -> UUID:
        """What it is about: a crew, an isolation, a cell, a card or a stop."""
        return UUID(self.members[self.kind.about])


def read_act(raw: Mapping[str, Any], *, device: str, arrived_at: datetime) -> SentAct:
    """Return the act; InputError names every member that is wrong."""
    faults: list[Fault] = []
    envelope = read_envelope(raw, faults, arrived_at)
    word = raw.get("act")
    kind = ACTS.get(word) if isinstance(word, str) else None
    person = None
    if raw.get("person") is not None:
        person = member_values.person("person", raw["person"], faults)
    members: dict[str, Any] = {}
    if kind is None:
        said = f"'{word}' is none of {', '.join(ACTS)}."
        faults.append(Fault(field="act", message=said))
    else:
        members = _members(raw, kind, faults)
    heard_at = heard(raw, faults)
    if faults or envelope is None:
        raise InputError(*faults)
    return SentAct(
        key=envelope.key,
        act=str(word),
        at=envelope.at,
        arrived_at=arrived_at,
        device=device,
        person=person,
        heard_at=heard_at,
        members=members,
    )


def heard(raw: Mapping[str, Any], faults: list[Fault]) -> int | None:
    """Return the number of the last act of others that the tablet knew of."""
    value = raw.get("heard_at")
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        message = "Give the number that the server said, or leave it out."
        faults.append(Fault(field="heard_at", message=message))
        return None
    return value


def _members(
    raw: Mapping[str, Any], kind: ActKind, faults: list[Fault]
) -> dict[str, Any]:
    unknown = sorted(set(raw) - ENVELOPE - set(kind.members))
    faults += [
        Fault(field=name, message=f"This act has no '{name}'.") for name in unknown
    ]
    members = {}
    for name, reader in kind.members.items():
        value = raw.get(name)
        if value is None and name in EMPTY:
            value = EMPTY[name]
        members[name] = reader(name, value, faults)
    if members.get("state") == "not_applicable" and not members.get("reason"):
        message = "Write why it does not apply here."
        faults.append(Fault(field="reason", message=message))
    return members
