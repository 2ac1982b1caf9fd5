"""What the demo's instruments showed. All of it is invented.

A round is a table: card (apparatus, procedure) -> conditions and the readings at
its points in order. `Again` is a second reading at the same point, with the
reason and the deficiency that it closes.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from seed_demo.curves import coil_record, excitation

CI, CE = "coil_current", "ct_excitation"
IR, CR = "insulation_resistance", "contact_resistance"
VI, DW, RT = "vacuum_integrity", "dielectric_withstand", "relay_timing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """The first reading was not within; the point was measured again."""

    first: str
    then: str
    reason: str
    deficiency: str = ""
    severity: str = "stops_turnover"
    closing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """A card as somebody filled it. `signed`: they also signed it.

    *rows*: point (counted from 0) -> rows of readings taken there, by name.
    """

    conditions: dict[str, Any]
    texts: tuple[str | Again, ...]
    rows: Mapping[int, Mapping[str, str]] = field(default_factory=dict)
    note: str = ""
    signed: bool = True
    instrument: str = ""


Round = dict[tuple[str, str], Filled]

AC = {"supply": "ac", "test_kv": 27.0, "duration_s": 60.0}
DC = {"supply": "dc", "dc_consent": "book", "polarity": "negative"}
DC |= {"test_kv": 37.5, "duration_s": 60.0}
VACUUM = {"method": "ac", "test_kv": 27.0, "duration_s": 60.0}


def ir(temperature_c: float, *texts: str | Again, **more: Any) -> Filled:
    """Return an insulation resistance card at 2.5 kV dc."""
    conditions = {
        "temperature_c": temperature_c,
        "humidity_pct": 58.0,
        "test_kv": 2.5,
    }
    return Filled(conditions=conditions, texts=texts, **more)


def cr(temperature_c: float, *texts: str | Again, **more: Any) -> Filled:
    """Return a contact resistance card at 100 A dc."""
    conditions = {"temperature_c": temperature_c, "test_current_a": 100.0}
    return Filled(conditions=conditions, texts=texts, **more)


def held(conditions: dict[str, Any], **more: Any) -> Filled:
    """Return a card on which all three poles held."""
    return Filled(conditions=conditions, texts=("held", "held", "held"), **more)


def pressure(*texts: str) -> Filled:
    """Return a card of residual pressures, in Pa, by the magnetron method."""
    return Filled(conditions={"method": "magnetron"}, texts=texts, instrument="VM-01")


def rt(*texts: str | Again) -> Filled:
    """Return a relay timing card."""
    return Filled(conditions={}, texts=texts)


def coils(closing: str, trip_1: str, trip_2: str, latch_ms: float) -> Filled:
    """Return the currents of a breaker's coils, with the record of the first trip.

    *latch_ms*: when its plunger reached the latch.
    """
    record = coil_record(float(trip_1), latch_ms, latch_ms + 18)
    return Filled(
        conditions={"control_v": 125.0},
        texts=(closing, trip_1, trip_2),
        rows={1: {"coil_record": record}},
    )


def cores(*read: tuple[str, float]) -> Filled:
    """Return excitation curves: the volts left at 100 A, and where 10 A is drawn."""
    return Filled(
        conditions={},
        texts=tuple(text for text, _ in read),
        rows={at: {"excitation": excitation(v)} for at, (_, v) in enumerate(read)},
    )


# 31 degC: what reads below 5 GOhm on the meter may be within once corrected.
ACCEPTANCE: Round = {
    ("bus A", IR): ir(
        31.0,
        "3.40",
        "3.62",
        "3.51",
        "7.9",
        "8.2",
        "8.0",
        rows={
            0: {
                "timed": "15:1.92 30:2.61 45:3.05 60:3.40 120:4.08 180:4.43 300:4.88 "
                "600:5.31",
                "steps": "0.5:3.52 1:3.47 2.5:3.40",
            }
        },
    ),
    ("bus A", CR): cr(31.0, "22.4", "23.1", "22.8"),
    ("bus A", DW): held(AC),
    ("breaker 52-1", IR): ir(
        31.0, "8.40", ">200", "12.6", "46", "49", "44", "41", "44", "39"
    ),
    ("breaker 52-1", CR): cr(31.0, "38.6", "39.4", "40.2"),
    ("breaker 52-1", VI): held(VACUUM),
    ("breaker 52-1", CI): coils("4.94", "5.62", "5.58", 14),
    ("CT 1", CE): cores(("440.8", 486.0), ("443.8", 489.0), ("438.8", 484.0)),
    ("relay 51-1", RT): rt("no_trip", "14.02", "5.88", "2.66", "1.385"),
    # 8 degC in the morning: 6.2 GOhm on the meter is not 5 GOhm at 20 degC.
    ("breaker 52-3", IR): ir(
        8.0,
        "21.5",
        "24.0",
        Again(
            first="6.20",
            then="26.1",
            reason="pole barrier wiped dry, space heater on for 3 h",
            deficiency="Moisture behind the pole C barrier of 52-3",
            closing="Heater circuit was off; switched on, barrier dried, repeated",
        ),
        "72",
        "68",
        "74",
        "64",
        "61",
        "66",
        note="Frost on the outside of the building in the morning.",
    ),
    ("breaker 52-3", CR): cr(
        14.0,
        "37.9",
        "38.8",
        Again(
            first="61.7",
            then="39.3",
            reason="finger cluster re-seated",
            deficiency="Pole C finger cluster of 52-3 not seated on its stud",
            closing="Cluster re-seated and retaining spring renewed by the installer",
        ),
    ),
    ("breaker 52-3", VI): held(VACUUM),
    # Times of a pickup 2.5 % high: slow near pickup, by less than what is declared.
    ("relay 51-3", RT): rt("no_trip", "30.46", "11.56", "4.07", "1.265"),
    ("breaker 52-T", IR): ir(
        24.0, "31", "29.5", "33", "80", "77", "83", "71", "69", "74"
    ),
    ("breaker 52-T", CR): cr(24.0, "41.0", "40.4", "42.7"),
    ("breaker 52-T", VI): held(VACUUM),
    # 58.6 and a limit of 60: within the guard band of the instrument at that day.
    ("breaker 52-5", IR): ir(
        24.0, "4.30", "11.8", "12.4", "58", "62", "57", "52", "55", "51"
    ),
    ("breaker 52-5", CR): cr(24.0, "43.2", "44.0", "42.1"),
    ("breaker 52-5", VI): held(VACUUM),
    ("bus B", IR): ir(28.0, "5.1", "5.6", "5.3", "9.8", "10.4", "10.1"),
    ("bus B", CR): cr(28.0, "24.9", "24.2", "25.6"),
    ("bus B", DW): held(
        DC,
        rows={
            0: {"leakage": "10:2.9 20:5.9 30:9.1 37.5:11.6"},
            1: {"leakage": "10:3.0 20:6.1 30:9.2 37.5:11.8"},
            # Climbs faster than the voltage at the last step: held, and looked at.
            2: {"leakage": "10:3.1 20:6.4 30:10.9 37.5:16.8"},
        },
    ),
    ("breaker 52-6", IR): ir(
        28.0, "14.2", "15.1", ">200", "54", "53", "57", "48", "47", "51"
    ),
    ("breaker 52-6", CR): cr(28.0, "39.9", "41.3", "40.8"),
    ("breaker 52-6", VI): pressure("2.1e-4", "3.0e-4", "6.0e-4"),
}
DISPOSED = {
    "acceptance": (
        "5 GΩ at 20 °C lies inside the tester's uncertainty; the other poles of the "
        "same breaker are well clear, and the point is on the list for next year."
    )
}

FIRST_MAINTENANCE: Round = {
    ("bus A", IR): ir(
        22.0,
        "5.9",
        "6.1",
        "6.0",
        "12.4",
        "12.9",
        "12.2",
        rows={0: {"timed": "15:3.4 30:4.6 45:5.3 60:5.9 120:7.1 300:8.6 600:9.5"}},
    ),
    ("bus A", CR): cr(22.0, "22.1", "22.6", "22.5"),
    ("bus A", DW): held(AC),
    ("breaker 52-1", IR): ir(
        22.0, "13.1", "150", "18.0", "69", "74", "67", "62", "66", "60"
    ),
    ("breaker 52-1", CR): cr(22.0, "38.4", "39.0", "40.1"),
    ("breaker 52-1", VI): held(VACUUM),
    ("breaker 52-1", CI): coils("4.90", "5.60", "5.57", 15),
    ("CT 1", CE): cores(("440.1", 485.3), ("443.3", 488.5), ("438.4", 483.6)),
    ("relay 51-1", RT): rt("no_trip", "14.05", "5.90", "2.64", "1.388"),
    ("breaker 52-3", IR): ir(
        22.0, "12.4", "13.6", "11.9", "45", "43", "46", "40", "38", "41"
    ),
    ("breaker 52-3", CR): cr(22.0, "39.8", "40.6", "45.1"),
    ("breaker 52-3", VI): held(VACUUM),
    ("relay 51-3", RT): rt("no_trip", "30.42", "11.53", "4.08", "1.262"),
    ("breaker 52-T", IR): ir(
        22.0, "34", "32", "35", "90", "86", "92", "80", "77", "82"
    ),
    ("breaker 52-T", CR): cr(22.0, "41.2", "40.3", "42.9"),
    ("breaker 52-T", VI): held(VACUUM),
    # The spare stands in cell 5, while 52-5 is in the workshop.
    ("breaker 52-S", IR): ir(
        22.0, "18.9", "23.0", "21.4", "65", "67", "64", "58", "60", "57"
    ),
    ("breaker 52-S", CR): cr(22.0, "37.2", "38.0", "36.9"),
    ("breaker 52-S", VI): held(VACUUM),
    ("bus B", IR): ir(22.0, "7.2", "7.7", "7.4", "13.9", "14.6", "14.2"),
    ("bus B", CR): cr(22.0, "24.6", "24.0", "25.3"),
    ("bus B", DW): held(AC),
    ("breaker 52-6", IR): ir(
        22.0, "19.0", "20.4", ">200", "74", "71", "78", "66", "63", "70"
    ),
    ("breaker 52-6", CR): cr(22.0, "39.7", "41.0", "40.5"),
    ("breaker 52-6", VI): pressure("2.3e-4", "3.5e-4", "1.3e-3"),
}

# Pole C of 52-3 keeps rising: within the rule of 1.5 and within the maker's limit,
# and yet 30 % above its baseline. That is what a baseline is for.
# The spare stands in the tie now, in the place of 52-T.
SECOND_MAINTENANCE: Round = {
    place: filled
    for place, filled in FIRST_MAINTENANCE.items()
    if place[0] != "breaker 52-T"
} | {
    ("bus A", IR): ir(
        17.0,
        "7.0",
        "7.3",
        "7.2",
        "15.1",
        "15.6",
        "14.9",
        rows={0: {"timed": "30:5.4 60:7.0 120:8.3 300:9.9 600:11.0"}},
    ),
    ("breaker 52-1", IR): ir(
        17.0, "15.8", "140", "21.3", "84", "88", "81", "75", "79", "72"
    ),
    # The plunger of the first trip coil reaches its latch later every year.
    ("breaker 52-1", CI): coils("4.88", "5.59", "5.57", 18),
    ("CT 1", CE): cores(("440.4", 485.6), ("443.5", 488.7), ("438.6", 483.8)),
    ("breaker 52-3", IR): ir(
        17.0, "11.0", "12.1", "8.2", "52", "49", "53", "46", "44", "47"
    ),
    ("breaker 52-3", CR): cr(17.0, "40.1", "41.0", "51.6"),
    ("relay 51-3", RT): rt(
        "no_trip",
        Again(
            first="33.40",
            then="30.51",
            reason="test lead was on the wrong tap",
        ),
        "11.55",
        "4.08",
        "1.264",
    ),
    ("breaker 52-S", IR): ir(
        17.0, "20.2", "24.1", "22.8", "68", "72", "67", "61", "64", "60"
    ),
    ("breaker 52-S", CR): cr(17.0, "37.5", "38.3", "37.4"),
    ("breaker 52-5", IR): ir(
        17.0, "9.4", "13.6", "14.1", "67", "71", "66", "60", "63", "59"
    ),
    ("breaker 52-5", CR): cr(17.0, "43.1", "44.2", "42.3"),
    ("breaker 52-5", VI): held(VACUUM),
    ("bus B", IR): ir(17.0, "8.6", "9.1", "8.8", "16.6", "17.4", "17.0"),
    ("breaker 52-6", IR): ir(
        17.0, "22.4", "24.3", "190", "90", "85", "94", "80", "76", "84"
    ),
    # Within the limit in every round, and yet pole C will not stay so for long.
    ("breaker 52-6", VI): pressure("2.2e-4", "3.9e-4", "2.6e-3"),
}

# In service again: a look at bus A under load, after the clearance was returned.
IN_SERVICE: Round = {
    ("bus A", "phase_rotation"): Filled(conditions={}, texts=("as_expected",)),
    ("bus A", "thermography"): Filled(
        conditions={"compare_to": "similar", "load_pct": 62.0, "emissivity": 0.93},
        texts=("0.2", "-0.1", "0.4"),
    ),
    ("bus A", "discharge_survey"): Filled(
        conditions={"background_db": 6.0},
        texts=("9", "8", "2"),
        rows={2: {"background_db": 1.0, "phase_pattern": "not_locked"}},
    ),
}

# Half done: one card outside and not disposed of, one measured with an instrument
# out of calibration, one begun, the rest not begun.
HALF_DONE: Round = {
    ("bus", IR): ir(27.0, "5.2", "5.5", "5.4", "11.0", "11.6", "11.2"),
    ("bus", CR): cr(27.0, "46.1", "45.2", "47.8", signed=False),
    ("switch 89-1", IR): ir(
        27.0,
        "4.1",
        "9.8",
        "10.2",
        "37",
        "40",
        "38",
        "33",
        "36",
        "34",
        instrument="IR-03",
        signed=False,
    ),
    ("switch 89-1", CR): cr(
        27.0,
        "118",
        "121",
        "196",
        signed=False,
        note="Blade C looks shy of full penetration; the installer is told.",
    ),
    ("switch 89-2", IR): ir(27.0, "6.9", "2.05", signed=False),
}
HALF_DONE_DEFICIENCY = (
    ("switch 89-1", CR),
    2,
    "Blade C of 89-1 does not reach full penetration",
    "installer",
)
