"""Facts that lines rest on: so, known not to be so, or not known (None: asked).

Which kinds are driven by a spring, can trip or are drawn out is common practice.
"""

from collections.abc import Mapping

from models.criteria.safety.loader import books
from models.criteria.safety.words import CARD_FACTS, CELL_FACTS
from models.criteria.safety.work import PlannedCard, Work, WorkCell, groups_of

Facts = dict[str, bool | None]

DRIVEN_BY_SPRING = (
    "breaker",
    "contactor",
    "switch",
    "fused_switch",
    "three_position_switch",
    "earthing_switch",
)
GAS_SWITCHES = ("switch", "fused_switch", "three_position_switch", "earthing_switch")
CAN_TRIP = {"breaker": True, "contactor": True, "fused_switch": True, "switch": None}
DRAWN_OUT = ("breaker", "contactor")  # in metal-clad gear
WIRING = ("control_wiring", "sensor")
WITHOUT_CTS = {"vt", "cpt", "arrester", "fuse", "blank", "control_wiring", "ground"}
HOLD_CHARGE = ("cable", "arrester", "vt", "cpt", "transformer")
RELAY_TESTS = {"RS", "RS_trip"}


def cell_facts(work: Work, cell: WorkCell) -> Facts:
    """Return every fact of a cell; what was said of it as known goes first."""
    cards = work.cards_in(cell)
    wiring = any(card.kind in WIRING for card in cards)
    found: Facts = {
        **work_facts(work),
        "primary_work": _primary_work(work, cell),
        "springs": _stands_in(cell, DRIVEN_BY_SPRING),
        "cts": _cts(work, cell),
        "gas_switch": _stands_in(cell, GAS_SWITCHES),
        "low_voltage_work": wiring or bool(groups_of(cards) & RELAY_TESTS),
    }
    return _known(found, cell.known, CELL_FACTS)


def work_facts(work: Work) -> Facts:
    """Return the facts of the clearance that holds for the whole lineup."""
    kinds = {kind for cell in work.cells for kind in cell.kinds}
    found: Facts = {
        "carried_load": None,
        "holds_charge": True if kinds & set(HOLD_CHARGE) else None,
        "trips_in_reach": _trips_in_reach(work),
    }
    return _known(found, work.known, CELL_FACTS)


def card_facts(work: Work, card: PlannedCard) -> Facts:
    """Return every fact of a card; what was said of it as known goes first."""
    gas = work.gear == "gas_insulated"
    withdrawn = work.gear == "metal_clad" and card.kind in DRAWN_OUT
    on_bus = card.kind in ("bus", "joint")
    found: Facts = {
        **dict.fromkeys(CARD_FACTS),
        "wiring": card.kind in WIRING,
        "withdrawn": withdrawn,
        "bus_in_air": on_bus and not gas,
        "gas_insulated": gas,
        "can_trip": CAN_TRIP.get(card.kind, False),
        "ct_in_path": _ct_in_path(work, card, withdrawn=withdrawn),
        # In air the one set at the bus stays on; in gas a switch has to be opened.
        "ground_lifted": True if gas else False if on_bus else None,
        "switched_path": work.gear != "metal_clad",
        # Cables and capacitors are disconnected for a withstand: line T6.
        "capacitive": card.kind == "cable",
        "arc_flash": False if card.kind == "relay" else None,
        "relief_vents": True if gas else None,
    }
    found = _known(found, card.known, CARD_FACTS)
    if "relay_in_service" not in card.known:
        found["relay_in_service"] = _relay_in_service(work, found)
    return found


def _known(
    found: Facts, known: Mapping[str, bool], allowed: Mapping[str, str]
) -> Facts:
    unknown = set(known) - set(allowed)
    if unknown:
        raise ValueError(f"no such fact: {', '.join(sorted(unknown))}")
    return {**found, **known}


def _primary_work(work: Work, cell: WorkCell) -> bool:
    """Whether the cell's own cards, or those of its bus, work on the primary."""
    groups = books().groups
    own = work.cards_in(cell)
    bus = [c for c in work.cards_on_bus(cell.bus) if c.kind in ("bus", "joint")]
    return any(groups[group].primary for group in groups_of([*own, *bus]))


def _stands_in(cell: WorkCell, kinds: tuple[str, ...]) -> bool | None:
    """Whether one of *kinds* stands there; None where nothing is known of the cell."""
    there = cell.stands_in_it
    return bool(there & set(kinds)) if there else None


def _cts(work: Work, cell: WorkCell) -> bool | None:
    """Whether current transformers stand there.

    Where the lineup lists none, they may stand beside whatever is not known to be
    without.
    """
    if "ct" in cell.stands_in_it:
        return True
    listed = any("ct" in one.stands_in_it for one in work.cells)
    without = cell.stands_in_it and cell.stands_in_it <= WITHOUT_CTS
    return False if listed or without else None


def _ct_in_path(work: Work, card: PlannedCard, *, withdrawn: bool) -> bool | None:
    if withdrawn or card.kind not in DRAWN_OUT:
        return False
    cell = work.cell(card.cell)
    return None if cell is None else _cts(work, cell)


def _relay_in_service(work: Work, facts: Facts) -> bool | None:
    if facts["ct_in_path"] is False or work.known.get("carried_load") is False:
        return False
    return None


def _trips_in_reach(work: Work) -> bool:
    if groups_of(work.cards) & {*RELAY_TESTS, "PI"}:
        return True
    return any(
        "CR" in card.groups and card_facts(work, card)["relay_in_service"] is not False
        for card in work.cards
    )
