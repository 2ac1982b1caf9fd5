"""The demo's four lineups as they are entered: makers, types and serials invented."""

from typing import Any

from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from seed_demo import gt4_lineup
from seed_demo.people import fixed_id

METAL_CLAD = "SG-1"
METAL_ENCLOSED = "LB-2"
GAS_INSULATED = "GT-3"
CONNECTED = "GT-4"  # with current transformers, cables, relays and what else there is
TIE = "Bus tie"

MAKER = "Marram Switchgear Works"
BREAKER = {
    "maker": MAKER,
    "type": "draw-out vacuum breaker, spring operated",
    "built_year": 2023,
    "rated_withstand_kv": 36.0,
    "contact_limit_uohm": 60.0,
    "conductor": "copper",
    "insulation": "solid",
    "close_ms_min": 40.0,
    "close_ms_max": 70.0,
    "open_ms_min": 25.0,
    "open_ms_max": 45.0,
    "spread_close_ms": 2.0,
    "spread_open_ms": 2.0,
    "bounce_ms_max": 2.0,
}
COILS = {"control_nominal": "125_v_dc", "close_coil_ohm": 25.0, "coil_ohm": 22.0}
CT = {
    "maker": "Sallow Instrument Transformers",
    "type": "ring core on the spout",
    "built_year": 2023,
    "ratio": "1200:5",
    "ct_primary_a": 1200.0,
    "ct_secondary_a": 5.0,
    "ct_class": "C400",
    "ct_rct_ohm": 0.45,
}
RELAY = {"maker": "Tide Gate Protection", "type": "overcurrent relay, three phases"}
BLADES = {
    "maker": "Quoin Load-break Works",
    "type": "three-pole load-break switch",
    "built_year": 2026,
    "conductor": "copper",
}
FUSED = BLADES | {"type": "load-break switch with fuses"}
THREE_POSITION = {
    "maker": "Skerry Gas Gear",
    "type": "three-position switch, in the tank",
    "built_year": 2026,
    "conductor": "copper",
}
BUS = {"conductor": "copper", "insulation": "solid"}
VERY_INVERSE = RELAY | {
    "element": "51",
    "curve": "ieee_very_inverse",
    "pickup_a": 480.0,
    "time_dial": 2.0,
    "tolerance_pct": 5.0,
    "tolerance_s": 0.035,
    "multiples": [2.0, 3.0, 5.0, 10.0],
}
INCOMER_CURVE = VERY_INVERSE | {"bands": "iec_60255_151"}
FEEDER_CURVE = VERY_INVERSE | {
    "curve": "ieee_extremely_inverse",
    "pickup_a": 300.0,
    "time_dial": 3.0,
    "ceiling_multiple": 20.0,
    "pickup_error_pct": 3.0,
}

# lineup: (gear, ratings, cells); cell: (number, name, symbol, bus, apparatus);
# apparatus: (kind, label, nameplate)
LINEUPS: dict[str, tuple[str, dict[str, Any], list[tuple[Any, ...]]]] = {
    METAL_CLAD: (
        "metal_clad",
        {
            "maker": MAKER,
            "type": "metal-clad, draw-out",
            "housing": "indoor",
            "rated_kv": 15.0,
            "rated_withstand_kv": 36.0,
            "rated_impulse_kv": 95.0,
            "rated_a": 2000.0,
            "rated_ka": 31.5,
            "rated_s": 2.0,
            "rated_hz": 60.0,
            "built_year": 2023,
            "serial": "MC-15-0417",
        },
        [
            (
                "1",
                "Incomer A",
                "breaker",
                "bus A",
                [
                    ("bus", "bus A", BUS | {"rotation": "abc"}),
                    ("breaker", "breaker 52-1", BREAKER | COILS | {"serial": "V-2201"}),
                    ("ct", "CT 1", CT | {"serial": "R-3101 to R-3103"}),
                    ("relay", "relay 51-1", INCOMER_CURVE | {"serial": "T-58117"}),
                ],
            ),
            ("2", "VT and metering", "vt", "bus A", []),
            (
                "3",
                "Intake pumps 1 and 2",
                "breaker",
                "bus A",
                [
                    ("breaker", "breaker 52-3", BREAKER | {"serial": "V-2202"}),
                    ("relay", "relay 51-3", FEEDER_CURVE | {"serial": "T-58122"}),
                ],
            ),
            (
                "4",
                TIE,
                "breaker",
                "bus A",
                [("breaker", "breaker 52-T", BREAKER | {"serial": "V-2203"})],
            ),
            (
                "5",
                "Screens and chlorination",
                "breaker",
                "bus B",
                [("breaker", "breaker 52-5", BREAKER | {"serial": "V-2204"})],
            ),
            (
                "6",
                "Incomer B",
                "breaker",
                "bus B",
                [
                    ("bus", "bus B", BUS),
                    ("breaker", "breaker 52-6", BREAKER | {"serial": "V-2205"}),
                ],
            ),
        ],
    ),
    METAL_ENCLOSED: (
        "metal_enclosed",
        {
            "maker": "Quoin Load-break Works",
            "type": "metal-enclosed load-break",
            "housing": "indoor",
            "rated_kv": 15.0,
            "rated_withstand_kv": 36.0,
            "rated_impulse_kv": 95.0,
            "rated_a": 600.0,
            "rated_ka": 25.0,
            "rated_s": 2.0,
            "rated_hz": 60.0,
            "built_year": 2026,
            "serial": "LB-15-0093",
        },
        [
            (
                "1",
                "Supply",
                "switch",
                "bus",
                [
                    ("bus", "bus", BUS),
                    ("switch", "switch 89-1", BLADES | {"serial": "B-3310"}),
                ],
            ),
            (
                "2",
                "Works transformer",
                "fused_switch",
                "bus",
                [
                    (
                        "fused_switch",
                        "switch 89-2",
                        FUSED | {"serial": "B-3311", "fuse_a": 80},
                    )
                ],
            ),
            (
                "3",
                "Sludge house",
                "fused_switch",
                "bus",
                [
                    (
                        "fused_switch",
                        "switch 89-3",
                        FUSED | {"serial": "B-3312", "fuse_a": 50},
                    )
                ],
            ),
            ("4", "Cable end", "cable", "bus", []),
        ],
    ),
    GAS_INSULATED: (
        "gas_insulated",
        {
            "maker": "Skerry Gas Gear",
            "type": "gas-insulated ring",
            "housing": "indoor",
            "rated_kv": 27.0,
            "rated_withstand_kv": 60.0,
            "rated_impulse_kv": 125.0,
            "rated_a": 1250.0,
            "rated_ka": 25.0,
            "rated_s": 3.0,
            "rated_hz": 60.0,
            "built_year": 2026,
            "serial": "GT-27-0008",
        },
        [
            (
                "1",
                "Ring east",
                "three_position_switch",
                "bus",
                [
                    ("bus", "bus and tank 1", BUS | {"gas_fill_kpa": 140}),
                    (
                        "three_position_switch",
                        "switch 89-E",
                        THREE_POSITION | {"serial": "S-0801"},
                    ),
                ],
            ),
            (
                "2",
                "Ring west",
                "three_position_switch",
                "bus",
                [
                    (
                        "three_position_switch",
                        "switch 89-W",
                        THREE_POSITION | {"serial": "S-0802"},
                    )
                ],
            ),
            (
                "3",
                "Outfall feeder",
                "breaker",
                "bus",
                [
                    (
                        "breaker",
                        "breaker 52-F",
                        BREAKER
                        | {
                            "maker": "Skerry Gas Gear",
                            "type": "fixed vacuum breaker in the tank",
                            "serial": "S-0803",
                            "built_year": 2026,
                            "rated_withstand_kv": 60.0,
                            "contact_limit_uohm": 90.0,
                        },
                    )
                ],
            ),
        ],
    ),
    CONNECTED: ("gas_insulated", gt4_lineup.RATINGS, gt4_lineup.CELLS),
}


def lineup_draft(name: str) -> LineupDraft:
    """Return one of the lineups as it is entered."""
    gear, ratings, cells = LINEUPS[name]
    return LineupDraft(
        name=name,
        gear=gear,
        ratings=ratings,
        sections=[
            SectionDraft(name=section, rated_a=ratings["rated_a"])
            for section in dict.fromkeys(bus for _, _, _, bus, _ in cells)
        ],
        cells=[
            CellDraft(
                id=fixed_id(f"{name} cell {number}"),
                number=number,
                name=title,
                kind=kind,
                bus=bus,
                tie_to="bus B" if title == TIE else None,
                apparatus=[
                    ApparatusDraft(
                        id=fixed_id(f"{name} {label}"),
                        kind=what,
                        label=label,
                        plate=plate,
                    )
                    for what, label, plate in apparatus
                ],
            )
            for number, title, kind, bus, apparatus in cells
        ],
    )
