"""The two worked days of the reference: six metal-clad cells, three gas-insulated."""

from collections.abc import Sequence

from models.criteria.safety import PlannedCard, Work, WorkCell

NEW = {"carried_load": False}
IR, CR = "insulation_resistance", "contact_resistance"
OF_KIND = {
    "bus": (IR, CR, "dielectric_withstand"),
    "breaker": (IR, CR, "vacuum_integrity"),
    "three_position_switch": (IR, CR),
    "relay": ("relay_timing",),
}


def metal_clad_day() -> Work:
    """23 cards: five breakers, two buses, two relays; a VT drawer without card."""
    held = {
        "1": ["bus", "breaker", "ct", "relay"],
        "2": ["vt"],
        "3": ["breaker", "ct", "relay"],
        "4": ["breaker", "ct"],
        "5": ["bus", "breaker", "ct"],
        "6": ["breaker", "ct"],
    }
    cells = [
        WorkCell(id=cell, bus="A" if cell in "1234" else "B", kinds=kinds)
        for cell, kinds in held.items()
    ]
    return Work(gear="metal_clad", cells=cells, cards=cards_of(cells), known=NEW)


def gas_insulated_day() -> Work:
    """10 cards: the bus, two three-position switches without springs, a breaker."""
    by_hand = {"springs": False}
    cells = [
        WorkCell(id="1", bus="A", kinds=["three_position_switch", "ct"], known=by_hand),
        WorkCell(id="2", bus="A", kinds=["bus"]),
        WorkCell(id="3", bus="A", kinds=["three_position_switch", "breaker", "ct"]),
    ]
    return Work(gear="gas_insulated", cells=cells, cards=cards_of(cells), known=NEW)


def cards_of(cells: Sequence[WorkCell]) -> list[PlannedCard]:
    """Return the cards of the five procedures in force for what stands in the cells."""
    return [
        PlannedCard(
            id=f"{cell.id} {kind} {procedure}",
            procedure=procedure,
            apparatus=f"{cell.id} {kind}",
            kind=kind,
            cell=cell.id,
        )
        for cell in cells
        for kind in cell.kinds
        for procedure in OF_KIND.get(kind, ())
    ]
