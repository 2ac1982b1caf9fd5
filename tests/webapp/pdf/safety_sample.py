"""A made-up report of safety, as large as one page is meant to hold."""

from typing import Any

FULL = (8, 3, 12, 10)  # shifts, clearances, cells, exceptions

PEOPLE = ("Ines Calder", "Tobias Vane", "Marit Osei", "Jon Pell")
CELLS = (
    "Incomer A",
    "VT and metering",
    "Intake pumps 1 and 2",
    "Bus tie",
    "Screens and chlorination",
    "Incomer B",
)


def at(day: int, clock: str) -> str:
    """Return a time of November 2026, UTC."""
    return f"2026-11-{day:02d}T{clock}:00Z"


def report(size: tuple[int, int, int, int] = FULL) -> dict[str, Any]:
    """Return a report with so many shifts, clearances, cells and exceptions."""
    shifts, clearances, cells, exceptions = size
    return {
        "rule_set": "1926",
        "rule_set_text": "29 CFR 1926 Subparts K and V (construction) govern here, "
        "with the test-area rule 1926.963.",
        "governs": "The law and code adopted here, the employer's safety programme, "
        "the site's switching order, the equipment's instruction book and the "
        "judgement of the qualified or licensed person in charge govern. This list "
        "helps memory; where they differ, the stricter holds. A tick is a person's "
        "statement, not proof.",
        "crews": [_crew(n) for n in range(1, shifts + 1)],
        "clearances": [_clearance(n) for n in range(1, clearances + 1)],
        "cells": [_cell(n) for n in range(1, cells + 1)],
        "cards": {
            "cards": 23,
            "before": 123,
            "after": 69,
            "people": 2,
            "readings": 140,
            "outside": 0,
            "after_open": [],
            "in_time": True,
        },
        "exceptions": [_exception(n) for n in range(exceptions)],
        "lines": 353,
        "file": "safety.json",
        "digest": "5c" * 32,
        "statements": [],
    }


def _crew(n: int) -> dict[str, Any]:
    day = 3 + n
    return {
        "shift": n,
        "opened_at": at(day, "07:05"),
        "closed_at": at(day, "15:30") if n < 8 else None,
        "end": "its 14 h were over" if n == 3 else "",
        "in_charge": PEOPLE[0],
        "people": list(PEOPLE if n % 2 else PEOPLE[:2]),
        "releasers": list(PEOPLE[:2]),
        "weather": ["weather 07:00, 40 km"],
        "air": ["oxygen 20.9 %, 07:20"] if n % 2 else [],
    }


def _clearance(n: int) -> dict[str, Any]:
    points = (
        ("52-1 racked out", 14),
        ("tie 52-5 racked out", 15),
        ("VT drawer cell 2", 16),
        ("far cable end, cell 3", 17),
        ("far cable end, cell 4", 18),
        ("52-6 racked out", 19),
    )
    return {
        "number": f"{4710 + n}",
        "section": "bus A" if n == 1 else "bus B" if n == 2 else "whole lineup",
        "holder": PEOPLE[0],
        "opened_at": at(3 + n, "08:10"),
        "closed_at": at(5 + n, "14:20") if n == 1 else None,
        "points": [f"{what}, lock L-{lock + n}" for what, lock in points],
        "grounds_on": 6,
        "grounds_off": 6 if n == 1 else 0,
        "counted": ["6", "6"] if n == 1 else [],
        "grounds": ["G-1 bus A at cell 2", "G-2 cables cell 3", "G-3 cables cell 4"],
        "parts": [
            {
                "cells": ["4"],
                "at": at(5, "11:20"),
                "by": PEOPLE[0],
                "to": "operations desk",
            }
        ]
        if n == 2
        else [],
        "returned": {
            "cells": [],
            "at": at(6, "14:20"),
            "by": PEOPLE[0],
            "to": "operations desk",
        }
        if n == 1
        else None,
    }


def _cell(n: int) -> dict[str, Any]:
    times = [at(4, "09:05"), at(4, "13:10"), at(5, "08:00")]
    return {
        "number": f"{n}",
        "name": CELLS[(n - 1) % len(CELLS)],
        "entered": times[: 1 + n % 3],
        "holders": list(PEOPLE[1 : 2 + (n % 4 == 0)]),
        "detectors": ["D-12, 36 kV"],
        "grounds": ["G-2"] if n % 3 else ["G-1", "cell 3, breaker 52-F"],
        "density": ["0.62 MPa at 18 °C"] if n > 9 else [],
    }


def _exception(n: int) -> dict[str, Any]:
    blank: dict[str, Any] = {
        "card": "",
        "reading": "",
        "kind": "lapse",
        "at": at(4 + n % 5, f"10:{10 + n}"),
        "until": None,
        "where": f"cell {n + 1}",
        "code": "",
        "what": "",
        "reason": "",
        "by": PEOPLE[1],
        "names": [],
        "agreed": None,
        "sheets": [],
    }
    return blank | EXCEPTIONS[n % len(EXCEPTIONS)]


EXCEPTIONS: tuple[dict[str, Any], ...] = (
    {
        "kind": "not_applicable",
        "where": "card 5",
        "code": "CR2a",
        "what": "Closed device is blocked against tripping.",
        "reason": "the mechanism has no trip latch in this position",
    },
    {
        "kind": "override",
        "where": "card 7",
        "code": "P03a",
        "what": "Ground stayed on for the set time.",
        "reason": "measured 0 V on all three phases, switch room has to be cleared",
        "names": [PEOPLE[0], PEOPLE[2]],
    },
    {
        "kind": "lapse",
        "where": "clearance 4711",
        "what": "lock L-15 of the tie was taken off",
        "reason": "operations moved the tie to its test position",
        "sheets": [3, 4, 5],
    },
    {
        "kind": "stop",
        "where": "the site",
        "until": at(5, "11:02"),
        "what": "crane moved behind the fence, banksman posted",
        "reason": "load passed above the barrier",
        "names": [PEOPLE[0]],
        "agreed": True,
    },
    {
        "kind": "outside",
        "where": "card 9",
        "what": "A-G at 10:44, the clearance had lapsed at 10:40",
    },
    {"kind": "not_put_back", "where": "clearance 4712", "what": "CT link 3-X4, cell 3"},
)

CARD: dict[str, Any] = {
    "shifts": [1],
    "clearances": ["4711"],
    "cell": "3",
    "before": 7,
    "after": 3,
}
STATEMENT: dict[str, Any] = {
    "id": "6f0c1f6e-6d0f-4d5e-9a53-1d7a3c1b2e41",
    "act": "line",
    "scope": "isolation",
    "of": "6f0c1f6e-6d0f-4d5e-9a53-1d7a3c1b2e42",
    "where": "clearance 4711",
    "code": "G04c",
    "text": "I signed on to this clearance.",
    "source": "common practice",
    "item": "Marit Osei",
    "state": "confirmed",
    "reason": "",
    "noted": {"time": at(4, "08:20")},
    "said": [["Time", at(4, "08:20")]],
    "by": "Marit Osei",
    "on": "Tobias Vane",
    "device": "tablet-1",
    "at": at(4, "08:21"),
    "arrived_at": at(4, "08:22"),
}
