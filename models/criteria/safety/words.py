"""The words that the files of the lines may use, and what each means."""

from collections.abc import Mapping, Sequence
from typing import get_args

from models.criteria.safety.shapes import FieldKind, Register, Scope

SCOPES: Sequence[str] = get_args(Scope)
REGISTERS: Sequence[str] = get_args(Register)
FIELD_KINDS: Sequence[str] = get_args(FieldKind)
# What a line may be asked of each of, by scope.
EACH: Mapping[str, Sequence[str]] = {
    "crew": ("person", "lineup", "set", "place"),
    "isolation": ("person", "source", "ground"),
    "point": (),
    "test": (),
    "after": (),
    "return": ("person", "cell"),
}
# The kinds of source: how well it stands behind a line.
PROVENANCES: Mapping[str, str] = {
    "published": "",
    "memory": "from memory",
    "practice": "common practice",
    "own": "our own",
}
WHENS = ("item", "given", "register", "grounds", "new_shift")
ONLY = ("gears", "facts", "here", "section", "planned")
# What a line or a list may rest on. Of a cell and its clearance:
CELL_FACTS: Mapping[str, str] = {
    "primary_work": "work on the primary is planned in the cell or on its bus",
    "springs": "something in the cell is driven by a spring",
    "cts": "current transformers stand in the cell",
    "gas_switch": "a switch in gas stands in the cell",
    "low_voltage_work": "work in a low-voltage compartment is planned in the cell",
    "carried_load": "the gear has carried load",
    "holds_charge": "something that holds charge is fitted in the section",
    "trips_in_reach": "a planned test may trip devices in service",
}
# Of a card:
CARD_FACTS: Mapping[str, str] = {
    "wiring": "control wiring or electronics is tested",
    "withdrawn": "the tested device is drawn out of its cell",
    "bus_in_air": "a bus or joint of metal-enclosed or metal-clad gear is tested",
    "gas_insulated": "the gear is gas-insulated",
    "can_trip": "the tested device, closed, can trip",
    "ct_in_path": "the current of the test passes a current transformer",
    "relay_in_service": "a relay of such a transformer is in service",
    "ground_lifted": "a ground is lifted or a grounding switch opened for it",
    "switched_path": "switches lie in the tested circuit",
    "capacitive": "a cable or capacitor is in the tested circuit",
    "no_limit_stored": "no limit of the maker is stored",
    "shield_in_reach": "the shield of the interrupter is within reach",
    "arc_flash": "the relay has light sensors",
    "joints_opened": "joints are opened for the test",
    "more_cores": "the transformer has more cores",
    "ratio_measured": "the ratio is measured",
    "door_shuts": "the design allows racking behind a shut door",
    "racked_out": "it is racked outward",
    "interlock_keys": "the interlocks have keys",
    "interlocks_defeated": "an interlock is defeated for the test",
    "gas_arced": "the gas may have arced",
    "cable_joined": "the cable is joined to the gear",
    "ground_opened": "a ground is opened for the test",
    "sensor_clamps": "sensors are clamped round leads",
    "camera": "a camera is used",
    "two_sources": "the gear has two sources",
    "relief_vents": "the gear has relief vents or arc ducts",
}
