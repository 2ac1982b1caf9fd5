"""A circuit's own: transformers for measuring, relay, fuses, beside their cell."""

from collections.abc import Iterator, Sequence

from models.judging.wording import plain
from models.record.ratings.compared import SWITCHING, Compared, Held
from models.record.ratings.remark import Finding, amperes

CT_SECONDARIES_A = (1.0, 2.0, 5.0)
TIMED = "51"  # the element that takes overloads


def circuit_findings(about: Compared) -> Iterator[Finding]:
    """Yield what does not go together in a cell."""
    cells: dict[int, list[Held]] = {}
    for held in about.held:
        cells.setdefault(id(held.cell), []).append(held)
    for of_cell in cells.values():
        yield from _relays(of_cell)
        for held in of_cell:
            yield from _transformer(about, held)
            yield from _fuse(about, held)


def _relays(of_cell: Sequence[Held]) -> Iterator[Finding]:
    """Yield pickups (A, primary) above what the CT or the breaker carries."""
    ct_a = _least(of_cell, "ct_primary_a", ("ct", "relay", "meter"))
    device_a = _least(of_cell, "rated_a", SWITCHING)
    for relay in of_cell:
        pickup_a = relay.value("pickup_a")
        if pickup_a is None or relay.one.plate.get("element") != TIMED:
            continue
        if device_a is not None and pickup_a > device_a:
            parts = {"value": amperes(pickup_a), "rated": amperes(device_a)}
            yield relay.found("pickup_a", "rating.pickup.device", **parts)
        elif ct_a is not None and pickup_a > ct_a:
            parts = {"value": amperes(pickup_a), "rated": amperes(ct_a)}
            yield relay.found("pickup_a", "rating.pickup.ct", **parts)


def _least(of_cell: Sequence[Held], name: str, kinds: Sequence[str]) -> float | None:
    given = [one.value(name) for one in of_cell if one.one.kind in kinds]
    return min((value for value in given if value is not None), default=None)


def _transformer(about: Compared, held: Held) -> Iterator[Finding]:
    primary_a, bus_a = held.value("ct_primary_a"), about.bus_a(held.cell.bus)
    if primary_a is not None and bus_a is not None and primary_a > 2 * bus_a:
        parts = {"value": amperes(primary_a), "bus_a": amperes(bus_a)}
        yield held.found("ct_primary_a", "rating.ct.primary", **parts)
    secondary_a = held.value("ct_secondary_a")
    if secondary_a is not None and secondary_a not in CT_SECONDARIES_A:
        parts = {"value": amperes(secondary_a)}
        yield held.found("ct_secondary_a", "rating.ct.secondary", **parts)
    primary_v, rated_kv = held.value("vt_primary_v"), about.rating("rated_kv")
    if primary_v is not None and rated_kv is not None and primary_v > 1000 * rated_kv:
        parts = {"value": f"{plain(primary_v)} V", "rated": f"{plain(rated_kv)} kV"}
        yield held.found("vt_primary_v", "rating.vt", **parts)


def _fuse(about: Compared, held: Held) -> Iterator[Finding]:
    fuse_a = held.value("fuse_a")
    rated_a = held.value("rated_a") or about.bus_a(held.cell.bus)
    if fuse_a is not None and rated_a is not None and fuse_a > rated_a:
        parts = {"value": amperes(fuse_a), "rated": amperes(rated_a)}
        yield held.found("fuse_a", "rating.fuse", **parts)
