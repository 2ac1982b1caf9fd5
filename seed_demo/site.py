"""The demo's site and its three lineups."""

from datetime import datetime
from itertools import chain
from typing import Any
from uuid import uuid4

from sqlalchemy.orm import Session

from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.services.people import people
from models.services.people.assignments import assign
from models.services.setup import assets
from models.services.setup.confirm_plates import confirm_plates, plates_of
from models.services.setup.save_lineup import save_lineup
from seed_demo.people import LEAD, OWNER_FIRM, PEOPLE, SECOND, TEST_FIRM, fixed_id

SITE = "Gannet Head intake works"
ZONE = "America/Halifax"

METAL_CLAD = "SG-1"
METAL_ENCLOSED = "LB-2"
GAS_INSULATED = "GT-3"
TIE = "Bus tie"

BREAKER = {
    "type": "draw-out vacuum breaker, spring operated",
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
BUS = {"conductor": "copper", "insulation": "solid"}
VERY_INVERSE = {
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
                    ("bus", "bus A", BUS),
                    ("breaker", "breaker 52-1", BREAKER | {"serial": "V-2201"}),
                    ("relay", "relay 51-1", INCOMER_CURVE),
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
                    ("relay", "relay 51-3", FEEDER_CURVE),
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
                    ("switch", "switch 89-1", {"conductor": "copper"}),
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
                        {"fuse_a": 80, "conductor": "copper"},
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
                        {"fuse_a": 50, "conductor": "copper"},
                    )
                ],
            ),
            ("4", "Cable end", "cable", "bus", []),
        ],
    ),
    GAS_INSULATED: (
        "gas_insulated",
        {
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
                        {"conductor": "copper"},
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
                        {"conductor": "copper"},
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
                            "type": "fixed vacuum breaker in the tank",
                            "rated_withstand_kv": 60.0,
                            "contact_limit_uohm": 90.0,
                        },
                    )
                ],
            ),
        ],
    ),
}


def add_site(session: Session, secret: str, now: datetime) -> None:
    """Add the organisations and the site."""
    people.ensure_authority(
        session, secret=secret, authority_id=fixed_id("authority"), now=now
    )
    for kind, name, address in (
        ("owner", OWNER_FIRM, "1 Weir Road, Quillon Bay"),
        ("test_firm", TEST_FIRM, "Unit 6, Old Rope Walk, Quillon Bay"),
    ):
        people.add_organisation(
            session,
            organisation_id=fixed_id(name),
            kind=kind,
            name=name,
            address=address,
        )
    assets.add_site(
        session,
        site_id=fixed_id(SITE),
        owner_id=fixed_id(OWNER_FIRM),
        name=SITE,
        address="Gannet Head, Quillon Bay",
        zone=ZONE,
    )
    session.flush()


def add_people(session: Session, secret: str, password: str, now: datetime) -> None:
    """Add the cast, with keys, and let the test firm's people work on the site."""
    for person in PEOPLE:
        people.add_person(
            session,
            person_id=person.id,
            key_id=fixed_id(f"key {person.sign_in}"),
            organisation_id=fixed_id(person.firm),
            name=person.name,
            sign_in=person.sign_in,
            roles=person.roles,
            password=password,
            secret=secret,
            now=now,
        )
        if not {"owner", "administrator"}.intersection(person.roles):
            assign(session, person_id=person.id, site_id=fixed_id(SITE), now=now)


def add_lineups(session: Session, now: datetime) -> None:
    """Enter the lineups as the lead; a technician confirms their nameplates."""
    for name in LINEUPS:
        own = chain([fixed_id(name)], iter(uuid4, None))
        lineup_id = save_lineup(
            session,
            person_id=LEAD.id,
            site_id=fixed_id(SITE),
            lineup_id=None,
            draft=lineup_draft(name),
            now=now,
            new_id=own.__next__,
        )
        confirm_plates(
            session,
            person_id=SECOND.id,
            version_ids=[
                one.version_id
                for one in plates_of(session, person_id=SECOND.id, lineup_id=lineup_id)
            ],
            now=now,
            new_id=uuid4,
        )


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
