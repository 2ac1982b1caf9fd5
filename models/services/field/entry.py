"""An entry: one act that a tablet sends, with its envelope read."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from models.errors import Fault, InputError
from models.services.keeping.texts import storable, text_faults
from models.signing import chain

DEEPEST = 8  # levels of an entry's JSON; what is asked for has two
# No clock that ran down shows less; near year 1 there is no site's time to print.
EARLIEST = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """What every entry has: its key, and when it was made."""

    key: UUID
    at: datetime


def read_envelope(
    raw: Mapping[str, Any], faults: list[Fault], arrived_at: datetime
) -> Envelope | None:
    """Return the envelope; None where a fault was added."""
    found = [Fault(field="", message=why) for why in _unkept(raw)]
    key = _uuid(raw, "key", found)
    at = _time(raw, found)
    faults += found
    if found or key is None or at is None:
        return None
    return Envelope(key=key, at=min(at, arrived_at))  # a tablet's clock may run ahead


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What came from the tablet, with its envelope read."""

    key: UUID
    kind: str
    card_id: UUID
    at: datetime
    arrived_at: datetime
    device: str
    raw: Mapping[str, Any]

    @classmethod
    def read(
        cls,
        raw: Mapping[str, Any],
        *,
        kinds: Collection[str],
        device: str,
        arrived_at: datetime,
    ) -> "Entry":
        """Read the envelope of one of *kinds*; InputError names what is wrong."""
        faults: list[Fault] = []
        envelope = read_envelope(raw, faults, arrived_at)
        card_id = _uuid(raw, "card_id", faults)
        kind = raw.get("kind")
        if not isinstance(kind, str) or kind not in kinds:
            faults.append(
                Fault(field="kind", message=f"'{kind}' is none of {', '.join(kinds)}.")
            )
        if faults or envelope is None or card_id is None:
            raise InputError(*faults)
        return cls(
            key=envelope.key,
            kind=str(kind),
            card_id=card_id,
            at=envelope.at,
            arrived_at=arrived_at,
            device=device,
            raw=raw,
        )

    def text(self, field: str, what: str) -> str:
        """Return a text that must be there; InputError otherwise."""
        if faults := text_faults(field, self.raw.get(field), what):
            raise InputError(*faults)
        return str(self.raw[field]).strip()

    def optional_uuid(self, field: str) -> UUID | None:
        """Return an id that may be absent; InputError when it is no id."""
        if self.raw.get(field) in (None, ""):
            return None
        faults: list[Fault] = []
        value = _uuid(self.raw, field, faults)
        if faults:
            raise InputError(*faults)
        return value


def _unkept(value: object, depth: int = 0) -> list[str]:
    """Return why *value* cannot be kept exactly as it came; at most one reason."""
    if depth > DEEPEST:
        return ["This entry is nested too deep."]
    if isinstance(value, str):
        held = "This entry holds a character that cannot be kept."
        return [] if storable(value) else [held]
    if isinstance(value, int) and abs(value) > chain.LARGEST_INTEGER:
        return ["This entry holds a number that is out of all proportion."]
    inner: list[object] = []
    if isinstance(value, Mapping):
        inner = [*value.keys(), *value.values()]
    elif isinstance(value, list):
        inner = value
    return next((why for item in inner if (why := _unkept(item, depth + 1))), [])


def _uuid(raw: Mapping[str, Any], field: str, faults: list[Fault]) -> UUID | None:
    try:
        return UUID(str(raw.get(field)))
    except ValueError:
        faults.append(Fault(field=field, message="This is not an identifier."))
        return None


def _time(raw: Mapping[str, Any], faults: list[Fault]) -> datetime | None:
    try:
        at = datetime.fromisoformat(str(raw.get("at")))
        if at.tzinfo is not None and at.astimezone(UTC) >= EARLIEST:
            return at.astimezone(UTC)
    except (ValueError, OverflowError):
        pass
    message = f"Give date and time with the zone's offset, {EARLIEST.year} or later."
    faults.append(Fault(field="at", message=message))
    return None
