"""What the demo's crew finds at each lineup: sources, grounds, places; made up."""

from collections.abc import Callable
from itertools import count

from seed_demo.crew import Json, Site
from seed_demo.lineups import (
    CONNECTED,
    GAS_INSULATED,
    METAL_CLAD,
    METAL_ENCLOSED,
)

NOTED: Json = {
    "employer": "Plumbline Field Testing",
    "telephone": "555 0142",
    "briefing_place": "switch room door",
    "emergency_number": "911",
    "limited_m": 1.5,
    "restricted_m": 0.7,
    "arc_boundary_m": 4.2,
    "arc_rating": "8 cal/cm2, label on the cell",
    "weather_source": "marine forecast, Quillon Bay",
    "lightning_km": 60.0,
    "stop_words": "stop, stop, stop",
    "set_checked": "lamps, zero start, trip",
    "certificate": "high-voltage tester, class 2",
    "glove_class": "2",
    "glove_test_date": "four months ago, stamp on the cuff",
    "rating_worn": "12 cal/cm2",
    "issuer": "waterworks control room",
    "other_clearances": "none, said the control room",
    "drawing": "one-line GH-E-101",
    "revision": "F",
    "discharged_how": "by stick, then grounded",
    "agreed_by": "operations, waterworks control room",
    "trip_list": "none in service on this lineup",
    "detector": "D-12",
    "detector_kv": 36.0,
    "proved_on": "proving unit",
    "touched_place": "spouts and cable side",
    "indicator": "built-in, three lamps",
    "indicator_socket": "front sockets L1 to L3",
    "drawn_part": "breaker",
    "drawn_to": "on its truck, in the aisle",
    "spring_state": "discharged",
    "barrier": "tape at the aisle, signs",
    "bond_point": "ground bus of the cell",
    "bond_size": "35 mm2",
    "terminals": "shorting block TB-2",
    "compartments": "green, each",
    "gas_temperature_c": 19.0,
    "items_in": 4.0,
    "items_out": 4.0,
    "far_ends": "cable box, far end taped and watched",
    "people_answered": 2.0,
    "parts_off": "VT drawer and arresters, on the put-back list",
    "positions": "as on the sheet of positions",
    "induced_v": 0.0,
    "stick": "ST-3",
    "limit_kv": 27.0,
    "distance_m": 2.0,
    "distance_of": "the breaker's book",
    "worn": "gloves of class 2, face shield",
    "setting_file": "as approved",
    "relay_serial": "as on the card",
    "told_who": "control room and the crew",
    "released_to": "waterworks control room",
}


def _numbered(letter: str, first: int) -> Callable[[], str]:
    """Return what names the next lock, tag or key."""
    numbers = count(first)
    return lambda: f"{letter}-{next(numbers)}"


def _noted(grounds: float) -> Json:
    """Return what is noted on a lineup with so many grounds."""
    return NOTED | {
        "lock": _numbered("L", 14),
        "tag": _numbered("T", 331),
        "ground_number": "as on the register",
        "ground_place": "as on the register",
        "grounds_on": grounds,
        "grounds_off": grounds,
    }


def _source(kind: str, name: str, point: str) -> tuple[str, Json]:
    fields = {"source_kind": kind, "name": name, "isolating_point": point}
    return "source", fields | {"beyond": "dead"}


def _ground(kind: str, number: str, place: str) -> tuple[str, Json]:
    return "ground", {"ground_kind": kind, "number": number, "place": place}


SET: Json = {"set_kind": "set above 1 kV", "name": "HV-2"}
BASEMENT: Json = {"place_kind": "cable_basement", "name": "below the ring"}

FOUND = {
    METAL_CLAD: Site(
        clearance="GH-4711",
        items={
            None: [
                _source("line", "incomer A", "breaker 52-1 racked out"),
                _source("line", "incomer B", "breaker 52-6 racked out"),
                _source("VT", "of cell 2", "drawer withdrawn"),
                _source("control_transformer", "of the station", "fuses out"),
                _source("heater", "of all cells", "switch at panel H"),
                _source("far_end", "pump cables", "starters locked"),
                *(
                    _ground("portable", f"G-{number}", place)
                    for number, place in enumerate(
                        (
                            "bus A at cell 2",
                            "bus B at cell 6",
                            "incomer A, cable side",
                            "incomer B, cable side",
                            "cell 3, cable side",
                            "cell 5, cable side",
                        ),
                        1,
                    )
                ),
            ]
        },
        sets=[SET],
        noted=_noted(6.0),
        grounded_by={
            "1": ["G-1", "G-3"],
            "3": ["G-1", "G-5"],
            "4": ["G-1", "G-2"],
            "5": ["G-2", "G-6"],
            "6": ["G-2", "G-4"],
        },
    ),
    METAL_ENCLOSED: Site(
        clearance="GH-5203",
        items={
            None: [
                _source("line", "supply", "switch 89-1, gap seen"),
                _source("far_end", "works transformer", "low side locked"),
                _ground("portable", "G-7", "bus at cell 4"),
                _ground("portable", "G-8", "supply, cable side"),
            ]
        },
        sets=[SET],
        noted=_noted(2.0),
        grounded_by={"1": ["G-7", "G-8"], "2": ["G-7"], "3": ["G-7"]},
    ),
    GAS_INSULATED: Site(
        clearance="GH-5210",
        items={
            None: [
                _source("line", "ring east", "switch at Dock Road"),
                _source("line", "ring west", "switch at the reservoir"),
                _source("far_end", "outfall feeder", "starter locked"),
                _source("VT", "of the ring", "primary plug out"),
                _ground("grounding_switch", "89-E", "cell 1"),
                _ground("grounding_switch", "89-W", "cell 2"),
                _ground("breaker", "52-F", "cell 3"),
            ]
        },
        sets=[SET],
        places=[BASEMENT],
        noted=_noted(3.0),
        grounded_by={"1": ["89-E"], "2": ["89-W"], "3": ["52-F"]},
    ),
    CONNECTED: Site(
        clearance="GH-5214",
        items={
            None: [
                _source("line", "incomer", "switch at Dock Road"),
                _source("far_end", "solids hall", "main of the hall locked"),
                _source("VT", "of the bus", "primary plugs out"),
                _source("control_transformer", "of the station", "fuses out"),
                _ground("breaker", "52-4", "cell 1, cable side"),
                _ground("grounding_switch", "89-4", "cell 3"),
            ]
        },
        sets=[SET],
        noted=_noted(2.0),
        grounded_by={"1": ["52-4"], "2": ["52-4"], "3": ["89-4"]},
    ),
}
