"""Golden cases: what a project or a maker gives goes before the tables.

By hand: the project's figure, else the maker's, else that on the nameplate, else the
table's. The two documents are invented.
"""

from collections.abc import Mapping
from typing import Any

from models.procedures import Subject
from models.procedures.given import Given as Criterion
from tests.data.golden_case import Case, Given, Hand, hand


def project(quantity: str, value: float, scope: str = "lineup") -> Criterion:
    return Criterion(
        quantity=quantity,
        value=value,
        standing="project",
        scope=scope,
        document="Project specification PS-7",
        edition="revision C",
        clause="clause 6.2",
        criterion="c-project",
        version=2,
    )


def maker(quantity: str, value: float, scope: str = "kind") -> Criterion:
    return Criterion(
        quantity=quantity,
        value=value,
        standing="maker",
        scope=scope,
        document="Instruction book IB-31",
        edition="edition 4",
        clause="page 12",
        criterion="c-maker",
        version=1,
    )


def case(
    name: str, procedure: str, subject: Subject, *read: tuple[Given, Hand], why: str
) -> Case:
    return Case(
        name=f"given: {name}",
        procedure=procedure,
        subject=subject,
        readings=tuple(given for given, _ in read),
        by_hand=tuple(found for _, found in read),
        why=why,
    )


def read(text: str, unit: str | None = None, **conditions: Any) -> Given:
    known: Mapping[str, Any] = conditions
    return Given(text=text, unit=unit, conditions=known)


def pole(text: str) -> Given:
    return read(text, "uOhm", temperature_c=20.0, test_current_a=100.0)


CASES = (
    case(
        "the project's insulation minimum, the maker's set aside",
        "insulation_resistance",
        Subject(
            gear="metal_clad",
            rated_kv=15.0,
            given=(
                maker("insulation_minimum", 2000.0),
                project("insulation_minimum", 8000.0),
            ),
        ),
        (
            read("7.99", "GOhm", temperature_c=20.0, test_kv=2.5),
            hand("outside", limit_low=8000),
        ),
        why="8 GOhm, not 2 and not the table's 5",
    ),
    case(
        "the maker's insulation minimum, the test voltage of the table",
        "insulation_resistance",
        Subject(rated_kv=15.0, given=(maker("insulation_minimum", 2000.0),)),
        (
            read("3", "GOhm", temperature_c=20.0, test_kv=2.5),
            hand("within", limit_low=2000),
        ),
        (read("3", "GOhm", temperature_c=20.0, test_kv=1.0), hand("unjudged")),
        why="2 GOhm; the table asks for 2.5 kV",
    ),
    case(
        "the project's contact limit before the maker's and the nameplate's",
        "contact_resistance",
        Subject(
            conductor="copper",
            limit=60.0,
            limit_unit="uOhm",
            given=(project("contact_limit", 35.0), maker("contact_limit", 40.0)),
        ),
        (pole("36"), hand("outside", limit_high=35)),
        (pole("35"), hand("within", limit_high=35)),
        why="35 microohm",
    ),
    case(
        "the project's times the lowest",
        "contact_resistance",
        Subject(conductor="copper", given=(project("contact_spread", 1.2),)),
        (pole("30"), hand("within", limit_high=36)),
        (pole("36.1"), hand("outside", limit_high=36)),
        why="1.2 x 30 = 36",
    ),
    case(
        "the project's ac level, the nameplate's set aside",
        "dielectric_withstand",
        Subject(
            gear="metal_clad",
            rated_kv=15.0,
            rated_withstand_kv=36.0,
            level_ac_kv=26.0,
            given=(project("withstand_ac", 28.0),),
        ),
        (
            read("held", supply="ac", test_kv=27.0, duration_s=60.0),
            hand("unjudged", limit_low=28),
        ),
        (
            read("held", supply="ac", test_kv=28.0, duration_s=60.0),
            hand("within", limit_low=28),
        ),
        why="28 kV, not 26, not 0.75 x 36 = 27",
    ),
    case(
        "a maker's dc level where the table has none",
        "dielectric_withstand",
        Subject(
            gear="gas_insulated", rated_kv=15.0, given=(maker("withstand_dc", 38.0),)
        ),
        (
            read("held", supply="dc", test_kv=38.0, duration_s=60.0),
            hand("within", limit_low=38),
        ),
        (read("held", supply="ac", test_kv=38.0, duration_s=60.0), hand("unjudged")),
        why="38 kV dc; an ac level is not known",
    ),
    case(
        "a maker's levels and pressure for a vacuum interrupter",
        "vacuum_integrity",
        Subject(
            gear="metal_clad",
            rated_kv=15.0,
            given=(
                maker("vacuum_ac", 30.0),
                maker("vacuum_dc", 40.0),
                maker("vacuum_pressure", 0.05),
            ),
        ),
        (
            read("held", method="ac", test_kv=30.0, duration_s=60.0),
            hand("within", limit_low=30),
        ),
        (
            read("held", method="dc", test_kv=40.0, duration_s=60.0),
            hand("within", limit_low=40),
        ),
        (read("0.04", "Pa", method="magnetron"), hand("within", limit_high=0.05)),
        why="30 and 40 kV; 0.05 Pa, not the table's 0.01",
    ),
    case(
        "a relay's tolerance: the project's part, the maker's part",
        "relay_timing",
        Subject(
            curve="ieee_very_inverse",
            pickup_a=480.0,
            time_dial=2.0,
            tolerance_pct=5.0,
            tolerance_s=0.035,
            given=(
                project("relay_tolerance_pct", 2.0),
                maker("relay_tolerance_s", 0.05),
            ),
        ),
        (read("6.001", "s", applied_a=1440.0), hand("within", limit_high=6.00219)),
        (read("6.003", "s", applied_a=1440.0), hand("outside", limit_high=6.00219)),
        why="5.8845 s; 2 % is 0.11769 s, more than 0.05 s",
    ),
)
