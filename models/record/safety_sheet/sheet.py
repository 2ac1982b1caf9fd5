"""The whole sheet: crews, clearances, cells and returns of a lineup."""

from collections.abc import Iterator, Sequence
from typing import TypedDict

from models.record.safety_report.told import Json, Told
from models.record.safety_sheet.lines import (
    FormLine,
    apart,
    blank_lines,
    standing_lines,
)
from models.record.safety_sheet.tables import FormTable, people_table, register_table

TAKEN, BACK = ("Taken out by, when", 1.8), ("Back by, when, torque", 2.2)


class FormScope(TypedDict):
    """A crew or a clearance: its title, facts, lines and tables."""

    title: str
    facts: list[str]
    lines: list[FormLine]
    tables: list[FormTable]


class FormIsolation(FormScope):
    """A clearance, with what is put back before it is returned."""

    returning: list[FormLine]
    return_tables: list[FormTable]


class FormPoint(TypedDict):
    """A cell."""

    title: str
    facts: list[str]
    lines: list[FormLine]


class SafetySheet(TypedDict):
    """What is printed; *stops* is the table for who stops the work."""

    rule_set_text: str
    governs: str
    crews: list[FormScope]
    isolations: list[FormIsolation]
    points: list[FormPoint]
    stops: FormTable


def safety_sheet(told: Told, site: Json) -> SafetySheet:
    """Return the sheet; *site* is what stands now (shape SiteStanding).

    Where no crew is open, or no clearance is held, the sheet has a blank one.
    """
    crews: list[Json | None] = list(_not_ended(site["crews"], told.crews))
    isolations: list[Json | None] = list(
        _not_ended(site["isolations"], told.isolations)
    )
    return {
        "rule_set_text": told.book["settings"]["rule_set_text"],
        "governs": told.book["governs"],
        "crews": [_crew(told, one) for one in crews or [None]],
        "isolations": [_isolation(told, one) for one in isolations or [None]],
        "points": [
            _point(told, cell, site["points"].get(cell))
            for cell in told.cells
            if told.book["point"].get(cell)
        ],
        "stops": _stops(),
    }


def _not_ended(scopes: Sequence[Json], own: Sequence[str] | Json) -> Iterator[Json]:
    return (one for one in scopes if one["of"] in own and one["state"] != "ended")


def _crew(told: Told, crew: Json | None) -> FormScope:
    codes = told.book["crew"]
    shared = [
        code for code in codes if "person" not in told.book["lines"][code]["each"]
    ]
    own = list(apart(told, codes, "person"))
    facts = []
    if crew is not None:
        facts = [
            f"In charge {crew['in_charge']}" if crew["in_charge"] else "",
            f"planned until {told.clock(crew['planned_end'], told.now)}",
        ]
    lines = standing_lines(told, crew, shared) if crew else blank_lines(told, shared)
    return {
        "title": f"Crew, shift {told.crews[crew['of']]}" if crew else "Crew of a shift",
        "facts": facts or ["Day, from, planned end: _____________________________"],
        "lines": lines,
        "tables": [people_table(told, "Each person of the crew", crew, own)],
    }


def _isolation(told: Told, isolation: Json | None) -> FormIsolation:
    book, lines = told.book, told.book["isolation"]
    once = list(apart(told, lines))
    returning = list(apart(told, book["returning"]))
    back = isolation["returning"] if isolation else None
    title = f"Clearance {isolation['clearance']}" if isolation else "Clearance"
    return {
        "title": title,
        "facts": _isolation_facts(isolation),
        "lines": standing_lines(told, isolation, once)
        if isolation
        else blank_lines(told, once),
        "tables": [
            _register(told, "Sources", "source", isolation, "sources"),
            _register(told, "Ground register", "ground", isolation, "grounds"),
            people_table(
                told,
                "Who works under this clearance",
                isolation,
                list(apart(told, lines, "person")),
                back,
                list(apart(told, book["returning"], "person")),
            ),
        ],
        "returning": _returning(told, back, returning),
        "return_tables": [
            register_table(
                told,
                "Put-back list",
                "put_back",
                isolation["put_back"] if isolation else [],
                None,
                [],
                [TAKEN, BACK],
                blank=10,
            ),
            _cells_table(told, back),
        ],
    }


def _isolation_facts(isolation: Json | None) -> list[str]:
    if isolation is None:
        return []
    holder = isolation["holder"]
    return [
        f"Section {isolation['section'] or 'whole lineup'}",
        f"held by {holder}" if holder else "",
    ]


def _register(
    told: Told, name: str, register: str, isolation: Json | None, member: str
) -> FormTable:
    codes = list(apart(told, told.book["isolation"], register))
    items = isolation[member] if isolation else []
    extra = [("Off: time, by", 1.4)] if register == "ground" else []
    return register_table(told, name, register, items, isolation, codes, extra)


def _returning(told: Told, back: Json | None, codes: Sequence[str]) -> list[FormLine]:
    """Return the lines of the return; those that the program has not asked yet too."""
    given = standing_lines(told, back, codes) if back and back["lines"] else []
    known = {line["code"] for line in given}
    rest = blank_lines(told, [code for code in codes if code not in known])
    return sorted([*given, *rest], key=lambda line: list(codes).index(line["code"]))


def _cells_table(told: Told, back: Json | None) -> FormTable:
    """Return a row a cell, with a column for each line of the return of cells."""
    codes = list(apart(told, told.book["returning"], "cell"))
    table = register_table(told, "Each cell that was opened", "", [], back, codes)
    numbers = [
        [f"{cell['number']} {cell['name']}", *("" for _ in codes)]
        for cell in told.cells.values()
    ]
    heads = [("Cell", 2.4), *table["heads"][1:]]
    return {**table, "heads": heads, "rows": numbers, "blank": 0}


def _point(told: Told, cell: str, point: Json | None) -> FormPoint:
    codes = told.book["point"][cell]
    facts = []
    if point and point["entered"]:
        entered = told.clock(point["entered"], told.now)
        facts = [f"Entered {entered} by {point['holder']}"]
    there = told.cells[cell]
    return {
        "title": f"Cell {there['number']} {there['name']}",
        "facts": facts,
        "lines": standing_lines(told, point, codes)
        if point and point["lines"]
        else blank_lines(told, codes),
    }


def _stops() -> FormTable:
    heads = [("Stopped by, when", 2.0), ("Reason", 3.0), ("Put right", 3.0)]
    heads += [("Released by, when", 2.0), ("Who stopped agrees", 1.4)]
    return {"name": "Stops", "said": [], "heads": heads, "rows": [], "blank": 2}
