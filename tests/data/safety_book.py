"""A small book of safety lines, made up for tests: one line for each kind of rule."""

from typing import Any

Json = dict[str, Any]

CELLS = {
    "cell1": {"number": "1", "name": "Incomer", "bus": "A"},
    "cell2": {"number": "2", "name": "Feeder", "bus": "A"},
    "cell3": {"number": "3", "name": "Feeder", "bus": "A"},
    "cell5": {"number": "5", "name": "Feeder", "bus": "B"},
}
OTHER_LINEUP = {
    "gas1": {"number": "1", "name": "Ring cable", "bus": None},
    "gas2": {"number": "2", "name": "Transformer", "bus": None},
}

MARIT = {"id": "marit", "name": "Marit Osei"}
TOBIAS = {"id": "tobias", "name": "Tobias Vane"}
INES = {"id": "ines", "name": "Ines Roth"}
PAVEL = {"id": None, "name": "Pavel Lind"}  # has no account


def line(scope: str, *lapses: str, **more: Any) -> Json:
    """Return a line of the book; *lapses* are its change words."""
    return {
        "text": more.get("text", "A statement."),
        "scope": scope,
        "each": more.get("each", []),
        "fields": more.get("fields", []),
        "lapses": list(lapses),
        "when": more.get("when", {}),
        "suspends": more.get("suspends", {}),
        "never_waived": more.get("never_waived", False),
        "source": "made up",
        "shown": [],
        "caution": None,
    }


PORTABLE = {"item": {"ground_kind": ["portable"]}}
SWITCH = {"item": {"ground_kind": ["switch"]}}
GROUND_OFF = {"code": "G13e", "until": ["G14a"]}

LINES = {
    "G01a": line("crew", "charge"),
    "G02a": line("crew", "person", fields=["person"]),
    "G03a": line("crew", "hazard"),
    "G15b": line("crew", "study", "boundary", each=["lineup"]),
    "G23a": line("crew", "weather"),
    "G24a": line("crew", "permit", each=["place"], fields=["permit_end"]),
    "G25b": line("crew", "person", fields=["releasers"]),
    "HV7a": line("crew", "set", each=["set"], when={"item": {"set_kind": ["hv"]}}),
    "G01b": line("crew", each=["person"]),
    "G03b": line("crew", "briefing", each=["person"]),
    "G04a": line("isolation", fields=["number"], never_waived=True),
    "G05b": line("isolation", "source", "boundary"),
    "G06b": line("isolation", "point", "boundary", each=["source"], never_waived=True),
    "G07a": line("isolation", "lock", "boundary", each=["source"], never_waived=True),
    "G10d": line("isolation", "ground", each=["ground"], never_waived=True),
    "G13a": line("isolation", "ground", each=["ground"], when=PORTABLE),
    "G13c": line("isolation", "ground", each=["ground"], when=SWITCH),
    "G07b": line("isolation", "shift", when={"new_shift": True}),
    "G04c": line("isolation", each=["person"]),
    "RS3a": line("point", "left"),
    "G09a": line("point", "breaker"),
    "G10a": line("point", "left", "detector", fields=["detector"], never_waived=True),
    "G10b": line("point", "left", "wider", never_waived=True),
    "G13e": line("point", "left", "ground", fields=["grounds", "lender"]),
    "HV6a": line("point", "shift"),
    "G22a": line("point", "counted_out", fields=["count"]),
    "T2": line("test", "instrument"),
    "CR2a": line("test", "block", suspends={"code": "G09a", "until": ["CR6"]}),
    "T3": line("test", "grounds_back", "made_safe", suspends=GROUND_OFF),
    "HV3a": line("test", "made_safe", suspends=GROUND_OFF),
    "T9": line("test", "cover", suspends={"code": "G09a", "until": ["BT4"]}),
    "PI2": line("test", "secondary"),
    "T5": line("test", "crew", "idle", "made_safe", never_waived=True),
    "RS3b": line("test"),
    "P01a": line("after", never_waived=True),
    "G14a": line("after", when={"given": ["T3", "HV3a"]}, never_waived=True),
    "P03a": line("after"),
    "CR6": line("after", when={"given": ["CR2a"]}),
    "BT4": line("after"),
    "RS8": line("after"),
    "P04a": line("return", when={"register": "put_back", "put_back_kind": ["ct_link"]}),
    "G22b": line("return", each=["cell"]),
    "P07b": line("return", when={"grounds": True}),
    "R1": line("return", each=["person"]),
    "P09a": line("return"),
}

FIELDS = {
    "person": {
        "label": "second person",
        "unit": None,
        "kind": "person",
        "choices": [],
        "required": True,
    },
    "releasers": {
        "label": "who may release",
        "unit": None,
        "kind": "people",
        "choices": [],
        "required": True,
    },
    "number": {
        "label": "clearance number",
        "unit": None,
        "kind": "text",
        "choices": [],
        "required": True,
    },
    "detector": {
        "label": "detector",
        "unit": None,
        "kind": "text",
        "choices": [],
        "required": True,
    },
    "grounds": {
        "label": "grounds",
        "unit": None,
        "kind": "grounds",
        "choices": [],
        "required": True,
    },
    "lender": {
        "label": "lending cell",
        "unit": None,
        "kind": "cell",
        "choices": [],
        "required": False,
    },
    "permit_end": {
        "label": "permit ends",
        "unit": None,
        "kind": "time",
        "choices": [],
        "required": True,
    },
    "count": {
        "label": "loose items",
        "unit": None,
        "kind": "number",
        "choices": [],
        "required": True,
    },
}

POINT = ["RS3a", "G09a", "G10a", "G10b", "G13e", "G22a"]
ALL = ["crew", "isolation", "point"]


def lists(before: str, after: str, **more: Any) -> Json:
    """Return a card's lists with one choice."""
    return {
        "by": None,
        "lists": {"": {"before": before.split(), "after": after.split()}},
        "rests_on": more.get("rests_on", ALL),
        "waits": more.get("waits", []),
    }


CARDS = {
    "ir1": lists("CR2a T2 T3 T5", "P01a G14a P03a CR6"),
    "acw1": lists(
        "T2 HV3a T5", "P01a G14a", waits=[{"code": "HV4", "cards": ["ir1", "ir2"]}]
    ),
    "ir2": lists("T2 T3 T5", "P01a G14a P03a"),
    "rs2": lists("RS3b T2", "P01a RS8"),
    "bt2": lists("T9 T2 T5", "P01a BT4"),
    "ir3": lists("T2 T3 T5", "P01a G14a P03a"),
    "rs5": lists("RS3b T2", "P01a RS8"),
    "gas": lists("T2 HV3a T5", "P01a G14a", waits=[{"code": "HV6", "cells": ["gas1"]}]),
    "pi3": lists("PI2 T2 T3 T5", "P01a G14a"),
    "rk1": lists("T2", "", rests_on=["crew"]),
    "vi1": {
        "by": "supply",
        "lists": {
            "ac": {"before": ["T2", "T5"], "after": ["P01a"]},
            "dc": {"before": ["T2", "RS3b", "T5"], "after": ["P01a", "P03a"]},
        },
        "rests_on": ALL,
        "waits": [],
    },
}

CELL_OF = {
    "ir1": "cell1",
    "acw1": "cell1",
    "rk1": "cell1",
    "vi1": "cell1",
    "ir2": "cell2",
    "rs2": "cell2",
    "bt2": "cell2",
    "ir3": "cell3",
    "pi3": "cell3",
    "rs5": "cell5",
    "gas": "gas1",
}

BOOK: Json = {
    "settings": {
        "rule_set": "made_up",
        "rule_set_text": "A rule set, made up.",
        "shift_hours": 14.0,
        "idle_minutes": 30.0,
        "discharge_least_s": 60.0,
    },
    "governs": "The stricter holds.",
    "lines": LINES,
    "fields": FIELDS,
    "registers": {"ground": [], "source": [], "put_back": [], "set": [], "place": []},
    "cautions": {},
    "crew": [
        "G01a",
        "G02a",
        "G03a",
        "G15b",
        "G23a",
        "G24a",
        "G25b",
        "HV7a",
        "G01b",
        "G03b",
    ],
    "isolation": [code for code, one in LINES.items() if one["scope"] == "isolation"],
    "returning": ["P04a", "G22b", "P07b", "R1", "P09a"],
    "point": {
        "cell1": POINT,
        "cell2": POINT,
        "cell3": POINT,
        "cell5": ["RS3a"],
        "gas1": ["RS3a", "G10a", "G13e", "HV6a"],
        "gas2": ["RS3a", "G10a", "G13e", "HV6a"],
    },
    "cards": CARDS,
    "lineups": {
        "north": {"name": "North", "gear": "metal_clad", "cells": CELLS},
        "ring": {"name": "Ring", "gear": "gas_insulated", "cells": OTHER_LINEUP},
    },
    "people": [MARIT, TOBIAS, INES],
}
