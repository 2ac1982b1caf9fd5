"""Golden cases: bolts, grounds, cables, control wiring, fuses, arresters, meters.

By hand: each figure from the table or the nameplate that the case names.
"""

from collections.abc import Mapping
from typing import Any

from models.procedures import Subject
from models.procedures.given import Given as GivenFigure
from tests.data.golden_case import Case, Given, Hand, hand

NOTHING = Subject()
HALF_PCT = {"pct": 0.5, "fixed": 0.0, "unit": None}
W, M, X, U = map(hand, ("within", "marginal", "outside", "unjudged"))
NO_SPLICE_LIMIT = (
    "No limit is published for a splice: give the owner's, among the criteria of this "
    "lineup."
)


def case(
    procedure: str,
    name: str,
    texts: tuple[str, ...],
    unit: str | None,
    found: tuple[Hand, ...],
    why: str = "",
    subject: Subject = NOTHING,
    accuracy: Mapping[str, Any] | None = None,
    decision: str = "guarded",
    **conditions: Any,
) -> Case:
    known = {name: value for name, value in conditions.items() if value is not None}
    given = (
        Given(text=text, unit=unit, accuracy=accuracy, conditions=known)
        for text in texts
    )
    return Case(
        name=f"{procedure}: {name}",
        procedure=procedure,
        subject=subject,
        readings=tuple(given),
        by_hand=found,
        why=why,
        decision=decision,
    )


def bolt(
    name: str,
    text: str,
    found: Hand,
    diameter_in: float | None,
    material: str | None,
    lubricated: bool | None = None,
    unit: str = "lb-ft",
    subject: Subject = NOTHING,
    why: str = "",
) -> Case:
    return case(
        "bolt_torque",
        name,
        (text,),
        unit,
        (found,),
        why,
        subject,
        decision="simple",
        bolt_diameter_in=diameter_in,
        bolt_material=material,
        bolt_lubricated=lubricated,
    )


DRY, OILED = False, True
BOLTS = (
    bolt("1/2 in, SAE 5, dry", "48", hand("within", limit_low=48), 0.5, "grade_5", DRY),
    bolt("a little less", "47.9", hand("outside", limit_low=48), 0.5, "grade_5", DRY),
    bolt(
        "in newton metres",
        "65.08",
        hand("within", corrected=48.0005, limit_low=48),
        0.5,
        "grade_5",
        DRY,
        unit="Nm",
        why="48 lb-ft = 48 x 1.3558179483 = 65.0793 N m",
    ),
    bolt("9/16 in", "105", hand("within", limit_low=105), 0.5625, "grade_8", DRY),
    bolt("a size that is no row", "50", U, 0.55, "grade_5", DRY),
    bolt("a size between two rows of aluminium", "20", U, 0.4375, "aluminium", OILED),
    bolt(
        "3/4 in, bronze, dry", "87", hand("within", limit_low=87), 0.75, "bronze", DRY
    ),
    bolt(
        "3/4 in, bronze, lubricated",
        "60",
        hand("within", limit_low=60),
        0.75,
        "bronze",
        OILED,
    ),
    bolt("lubricated steel", "48", U, 0.5, "grade_5", OILED),
    bolt("material not said", "48", U, 0.5, None, DRY),
    bolt("lubrication not said", "48", U, 0.5, "bronze"),
    bolt("galvanized", "40", hand("within", limit_low=40), 0.5, "galvanized"),
    bolt(
        "the maker's figure goes first",
        "48",
        hand("outside", limit_low=55),
        0.5,
        "grade_5",
        DRY,
        subject=Subject(torque_lbft=55.0),
    ),
    bolt(
        "the maker's figure, of a bolt that is no row",
        "55",
        hand("within", limit_low=55),
        0.55,
        None,
        subject=Subject(torque_lbft=55.0),
    ),
)

COIL = {"supply_point": "coil", "coil": "trip_1"}
CABLE_15 = Subject(cable_kv=15.0, cable_level="133")
FUSE_65 = Subject(fuse_a=65.0)
HEATER = Subject(heater_w=250.0, heater_v=120.0)
METER = Subject(meter_class_pct=0.5)
NOMINAL_125 = Subject(control_nominal="125_v_dc")
VT_DRY = Subject(vt_primary_v=14400.0, vt_secondary_v=120.0, winding_kind="dry")


def given(subject: Subject, quantity: str, value: float) -> Subject:
    """Return the subject with one figure that the project's specification gives."""
    one = GivenFigure(
        quantity=quantity,
        value=value,
        standing="project",
        scope="lineup",
        document="Specification 26 08 00",
    )
    return Subject(given=(one,), **subject.fields)


GROUNDS = (
    case(
        "ground_point_to_point",
        "well below",
        ("12",),
        "mOhm",
        (W,),
        ground_path="point",
    ),
    case(
        "ground_point_to_point",
        "close to half an ohm",
        ("499",),
        "mOhm",
        (hand("marginal", limit_high=500000),),
        "U = 0.005 x 499 / sqrt(3) x 2 = 2.88 mOhm",
        accuracy=HALF_PCT,
        ground_path="point",
    ),
    case(
        "ground_point_to_point",
        "above",
        ("0.52",),
        "Ohm",
        (hand("outside", limit_high=500000),),
        ground_path="point",
    ),
    case(
        "ground_point_to_point",
        "a splice without a limit",
        ("60",),
        "uOhm",
        (hand("unjudged", NO_SPLICE_LIMIT),),
        ground_path="splice",
    ),
    case(
        "ground_point_to_point",
        "a splice above the owner's",
        ("60",),
        "uOhm",
        (hand("outside", limit_high=50),),
        subject=Subject(splice_limit_uohm=50.0),
        ground_path="splice",
    ),
)

CABLES = (
    case(
        "cable_shield",
        "below 10 ohms for 1000 ft",
        ("4.4",),
        "Ohm",
        (W,),
        "4.4 / 0.45 = 9.778",
        length_ft=450.0,
    ),
    case("cable_shield", "above", ("4.6",), "Ohm", (X,), "10.22", length_ft=450.0),
    case(
        "cable_shield",
        "too close to tell",
        ("4.49",),
        "Ohm",
        (M,),
        "9.978; U 0.058",
        accuracy=HALF_PCT,
        length_ft=450.0,
    ),
    case("cable_shield", "length not known", ("4.4",), "Ohm", (U,)),
    *(
        case(
            "cable_withstand",
            f"dc, leakage {name} while it is held",
            ("held",),
            None,
            (hand("within", limit_low=64),),
            subject=CABLE_15,
            method="dc",
            cable_stage="acceptance",
            test_kv=64.0,
            duration_s=900.0,
            leakage="13:1.0 26:2.0 38:3.1 51:4.2 64:6.0",
            held_leakage=held,
        )
        for name, held in (("falls", "1:6.0 2:5.2 15:4.1"), ("rises", "1:6.0 15:6.3"))
    ),
    case("phase_identity", "as marked", ("as_expected",), None, (W,)),
    case("phase_identity", "crossed", ("not_as_expected",), None, (X,)),
    *(
        case(
            "cable_withstand",
            name,
            (text,),
            None,
            (found,),
            subject=subject,
            method=method,
            cable_stage=stage,
            test_kv=kv,
            duration_s=seconds,
        )
        for name, text, found, subject, method, stage, kv, seconds in (
            (
                "15 kV, new, 0.1 Hz",
                "held",
                hand("within", limit_low=21),
                CABLE_15,
                "vlf",
                "acceptance",
                21.0,
                1800.0,
            ),
            (
                "not joined yet",
                "held",
                hand("within", limit_low=19),
                CABLE_15,
                "vlf",
                "installation",
                19.0,
                1800.0,
            ),
            (
                "15 minutes of a new one",
                "held",
                U,
                CABLE_15,
                "vlf",
                "acceptance",
                21.0,
                900.0,
            ),
            (
                "15 minutes in service",
                "held",
                hand("within", limit_low=16),
                CABLE_15,
                "vlf",
                "maintenance",
                16.0,
                900.0,
            ),
            (
                "far above",
                "held",
                hand("marginal", limit_low=16),
                CABLE_15,
                "vlf",
                "maintenance",
                21.0,
                900.0,
            ),
            ("broke down", "broke_down", X, CABLE_15, "vlf", "acceptance", 12.0, 60.0),
            (
                "new, dc, 133 %",
                "held",
                hand("within", limit_low=64),
                CABLE_15,
                "dc",
                "acceptance",
                64.0,
                900.0,
            ),
            (
                "new, dc, 100 %",
                "held",
                hand("within", limit_low=56),
                Subject(cable_kv=15.0, cable_level="100"),
                "dc",
                "acceptance",
                56.0,
                900.0,
            ),
            (
                "dc within five years",
                "held",
                hand("within", limit_low=20),
                CABLE_15,
                "dc",
                "first_five_years",
                20.0,
                900.0,
            ),
            ("dc in service", "held", U, CABLE_15, "dc", "maintenance", 20.0, 900.0),
            (
                "a rating that is no row",
                "held",
                U,
                Subject(cable_kv=12.0, cable_level="133"),
                "vlf",
                "acceptance",
                21.0,
                1800.0,
            ),
            ("stage not said", "held", U, CABLE_15, "vlf", None, 21.0, 1800.0),
            ("method not said", "held", U, CABLE_15, None, "acceptance", 21.0, 1800.0),
            (
                "the project's level",
                "held",
                hand("within", limit_low=25),
                given(CABLE_15, "cable_vlf_level", 25.0),
                "vlf",
                "acceptance",
                25.0,
                1800.0,
            ),
        )
    ),
    case(
        "cable_sheath",
        "2 mm",
        ("held",),
        None,
        (hand("within", limit_low=8),),
        "4 kV/mm x 2 mm",
        Subject(jacket_mm=2.0),
        test_kv=8.0,
        duration_s=60.0,
    ),
    case(
        "cable_sheath",
        "3 mm: 10 kV at most",
        ("held",),
        None,
        (hand("within", limit_low=10),),
        "12 kV is more than 10",
        Subject(jacket_mm=3.0),
        test_kv=10.0,
        duration_s=60.0,
    ),
    case(
        "cable_sheath",
        "far above",
        ("held",),
        None,
        (M,),
        subject=Subject(jacket_mm=2.0),
        test_kv=9.0,
        duration_s=60.0,
    ),
    case(
        "cable_sheath",
        "broke down",
        ("broke_down",),
        None,
        (X,),
        subject=Subject(jacket_mm=2.0),
        test_kv=3.0,
    ),
    case(
        "cable_sheath",
        "thickness not known",
        ("held",),
        None,
        (U,),
        test_kv=8.0,
        duration_s=60.0,
    ),
)

CONTROL = (
    *(
        case(
            "control_wiring_insulation",
            name,
            (text,),
            "MOhm",
            (found,),
            subject=Subject(wiring_v=wiring_v),
            accuracy=accuracy,
            test_v=test_v,
        )
        for name, text, found, wiring_v, test_v, accuracy in (
            ("600 V wiring", "3", hand("within", limit_low=2), 600.0, 1000.0, None),
            ("250 V is 300 V wiring", "1.9", X, 250.0, 500.0, None),
            ("too close to tell", "2.005", M, 300.0, 500.0, HALF_PCT),
            ("a test voltage too low", "30", U, 600.0, 500.0, None),
            ("above the last row", "30", U, 1000.0, 1000.0, None),
        )
    ),
    *(
        case(
            "control_wiring_withstand",
            name,
            (text,),
            None,
            (found,),
            supply=supply,
            circuit_kind=kind,
            test_kv=kv,
            duration_s=60.0,
        )
        for name, text, found, supply, kind, kv in (
            ("ac", "held", hand("within", limit_low=1.125), "ac", "circuit", 1.125),
            ("dc", "held", hand("within", limit_low=1.59), "dc", "circuit", 1.59),
            ("a motor", "held", hand("within", limit_low=0.675), "ac", "motor", 0.675),
            ("a motor at the level of circuits", "held", M, "ac", "motor", 1.125),
            ("a motor with dc", "held", U, "dc", "motor", 0.95),
            ("broke down", "broke_down", X, "ac", "circuit", 0.8),
            ("supply not said", "held", U, None, "circuit", 1.125),
        )
    ),
    *(
        case(
            "heater_current",
            name,
            (text,),
            "A",
            (found,),
            why,
            subject,
            accuracy,
            control_v=volts,
        )
        for name, text, found, why, subject, accuracy, volts in (
            ("nobody said how far", "2.05", U, "", HEATER, None, 118.0),
            (
                "ten percent adopted",
                "2.05",
                W,
                "250 x 118 / 120^2 = 2.0486",
                given(HEATER, "heater_departure", 10.0),
                None,
                118.0,
            ),
            (
                "an element is open",
                "1.02",
                X,
                "",
                given(HEATER, "heater_departure", 10.0),
                None,
                118.0,
            ),
            (
                "too close to tell",
                "1.85",
                M,
                "0.9 x 2.0486 = 1.8438; U 0.0107",
                given(HEATER, "heater_departure", 10.0),
                HALF_PCT,
                118.0,
            ),
            (
                "voltage not known",
                "2.05",
                U,
                "",
                given(HEATER, "heater_departure", 10.0),
                None,
                None,
            ),
        )
    ),
    *(
        case(
            "dc_supply",
            name,
            (text,),
            "V",
            (found,),
            "",
            subject,
            accuracy,
            **conditions,
        )
        for name, text, found, subject, accuracy, conditions in (
            (
                "at a trip coil",
                "118",
                hand("within", limit_low=70, limit_high=140),
                NOMINAL_125,
                None,
                COIL,
            ),
            (
                "at a close coil, low",
                "99",
                hand("outside", limit_low=100),
                NOMINAL_125,
                None,
                {**COIL, "coil": "close"},
            ),
            (
                "too close to tell",
                "100.2",
                M,
                NOMINAL_125,
                HALF_PCT,
                {**COIL, "coil": "motor"},
            ),
            (
                "which coil is not said",
                "118",
                U,
                NOMINAL_125,
                None,
                {"supply_point": "coil"},
            ),
            (
                "float, nobody said how far",
                "134",
                U,
                Subject(battery_float_v=134.0),
                None,
                {"supply_point": "battery"},
            ),
            (
                "float within 1 %",
                "133",
                hand("within", limit_low=132.66, limit_high=135.34),
                given(Subject(battery_float_v=134.0), "float_departure", 1.0),
                None,
                {"supply_point": "battery"},
            ),
            (
                "float, charger set too low",
                "131",
                X,
                given(Subject(battery_float_v=134.0), "float_departure", 1.0),
                None,
                {"supply_point": "charger"},
            ),
        )
    ),
    *(
        case(
            "meter_accuracy",
            name,
            (text,),
            "as_shown",
            (found,),
            why,
            subject,
            accuracy,
            **conditions,
        )
        for name, text, found, why, subject, accuracy, conditions in (
            (
                "half a percent",
                "119.5",
                hand("within", limit_low=119.4, limit_high=120.6),
                "120 x 0.995",
                METER,
                None,
                {"reference_value": 120.0},
            ),
            (
                "beyond its class",
                "119.3",
                X,
                "",
                METER,
                None,
                {"reference_value": 120.0},
            ),
            (
                "too close to tell",
                "119.45",
                M,
                "U 0.69",
                METER,
                HALF_PCT,
                {"reference_value": 120.0},
            ),
            (
                "behind a transformer",
                "14390",
                hand("within", limit_low=14328),
                "120 x 120 x 0.995",
                METER.but(meter_multiplier=120.0),
                None,
                {"reference_value": 120.0},
            ),
            (
                "a power that returns",
                "-99.6",
                hand("within", limit_low=-100.5, limit_high=-99.5),
                "",
                METER,
                None,
                {"reference_value": -100.0},
            ),
            ("reference not known", "119.5", U, "", METER, None, {}),
            (
                "class not known",
                "119.5",
                U,
                "",
                NOTHING,
                None,
                {"reference_value": 120.0},
            ),
        )
    ),
)

WINDINGS = (
    *(
        case(
            "winding_insulation",
            name,
            (text,),
            "GOhm",
            (found,),
            why,
            subject,
            accuracy,
            winding=winding,
            temperature_c=celsius,
            test_kv=kv,
        )
        for name, text, found, why, subject, accuracy, winding, celsius, kv in (
            (
                "primary",
                "26",
                hand("within", limit_low=25000),
                "",
                VT_DRY,
                None,
                "high",
                20.0,
                5.0,
            ),
            (
                "high to low",
                "24",
                hand("outside", limit_low=25000),
                "",
                VT_DRY,
                None,
                "high_to_low",
                20.0,
                5.0,
            ),
            (
                "secondary",
                "0.6",
                hand("within", limit_low=500),
                "",
                VT_DRY,
                None,
                "low",
                20.0,
                1.0,
            ),
            (
                "liquid-filled",
                "6",
                hand("within", limit_low=5000),
                "",
                VT_DRY.but(winding_kind="liquid"),
                None,
                "high",
                20.0,
                5.0,
            ),
            (
                "too close to tell",
                "25.1",
                M,
                "U 0.145",
                VT_DRY,
                HALF_PCT,
                "high",
                20.0,
                5.0,
            ),
            ("test voltage too low", "26", U, "", VT_DRY, None, "high", 20.0, 2.5),
            ("winding not said", "26", U, "", VT_DRY, None, None, 20.0, 5.0),
            ("temperature not known", "26", U, "", VT_DRY, None, "high", None, 5.0),
            ("nothing known", "26", U, "", NOTHING, None, "high", 20.0, 5.0),
        )
    ),
    *(
        case(
            "ct_insulation",
            name,
            (text,),
            "MOhm",
            (found,),
            accuracy=accuracy,
            temperature_c=celsius,
            test_kv=kv,
        )
        for name, text, found, accuracy, celsius, kv in (
            ("at 1000 V dc", "520", hand("within", limit_low=500), None, 20.0, 1.0),
            ("low", "480", X, None, 20.0, 1.0),
            ("too close to tell", "502", M, HALF_PCT, 20.0, 1.0),
            ("at 500 V dc", "520", U, None, 20.0, 0.5),
        )
    ),
)

ARRESTERS = (
    *(
        case(
            "arrester_leakage",
            name,
            (text,),
            "uA",
            (found,),
            subject=subject,
            accuracy=accuracy,
            supply="ac",
            test_kv=8.4,
        )
        for name, text, found, subject, accuracy in (
            (
                "below the maker's limit",
                "420",
                hand("within", limit_high=600),
                Subject(limit=600.0),
                None,
            ),
            ("above it", "601", X, Subject(limit=600.0), None),
            ("too close to tell", "598", M, Subject(limit=600.0), HALF_PCT),
            ("nobody gives a figure", "420", U, NOTHING, None),
        )
    ),
    case(
        "arrester_watts_loss",
        "below the limit",
        ("34",),
        "mW",
        (W,),
        subject=Subject(limit=60.0),
        test_kv=10.0,
    ),
    case(
        "arrester_watts_loss",
        "above it",
        ("0.061",),
        "W",
        (X,),
        subject=Subject(limit=60.0),
        test_kv=10.0,
    ),
    case(
        "arrester_watts_loss",
        "too close to tell",
        ("59.9",),
        "mW",
        (M,),
        subject=Subject(limit=60.0),
        accuracy=HALF_PCT,
        test_kv=10.0,
    ),
    case(
        "arrester_watts_loss",
        "nobody gives a figure",
        ("34",),
        "mW",
        (U,),
        test_kv=10.0,
    ),
    case(
        "arrester_watts_loss",
        "compared with similar ones",
        ("30", "34", "50"),
        "mW",
        (W, W, hand("outside", limit_high=45)),
        subject=given(NOTHING, "watts_loss_spread", 1.5),
        test_kv=10.0,
    ),
    *(
        case(
            "insulation_capacitance",
            name,
            (text,),
            "pF",
            (found,),
            subject=subject,
            accuracy=accuracy,
        )
        for name, text, found, subject, accuracy in (
            (
                "as on the nameplate",
                "352",
                hand("within", limit_low=332.5, limit_high=367.5),
                given(Subject(capacitance_pf=350.0), "capacitance_departure", 5.0),
                None,
            ),
            (
                "a layer broke down",
                "372",
                X,
                given(Subject(capacitance_pf=350.0), "capacitance_departure", 5.0),
                None,
            ),
            (
                "too close to tell",
                "367",
                M,
                given(Subject(capacitance_pf=350.0), "capacitance_departure", 5.0),
                HALF_PCT,
            ),
            (
                "within 5 %, as a manual prints",
                "352",
                W,
                Subject(capacitance_pf=350.0),
                None,
            ),
            ("not on the nameplate", "352", U, NOTHING, None),
        )
    ),
)

FUSES = tuple(
    case(
        "fuse_rating",
        name,
        texts,
        "A",
        found,
        why,
        subject,
        decision="simple",
        single_phasing=against,
    )
    for name, texts, found, why, subject, against in (
        (
            "as in the schedule",
            ("65", "65", "65"),
            (W, W, W),
            "",
            FUSE_65,
            "three_pole_trip",
        ),
        (
            "one is another",
            ("65", "80", "65"),
            (W, X, W),
            "",
            FUSE_65,
            "phase_loss_relay",
        ),
        (
            "all of another rating",
            ("80", "80", "80"),
            (X, X, X),
            "",
            FUSE_65,
            "three_pole_trip",
        ),
        ("alike, no schedule", ("65", "65"), (W, W), "", NOTHING, "owner_accepts"),
        ("not alike, no schedule", ("65", "80"), (W, X), "", NOTHING, "owner_accepts"),
        ("nothing trips all poles", ("65",), (U,), "", FUSE_65, "none"),
        ("not said what trips", ("65",), (U,), "", FUSE_65, None),
        (
            "the schedule goes before the nameplate",
            ("65",),
            (hand("outside", limit_low=80),),
            "",
            given(FUSE_65, "fuse_rating", 80.0),
            "three_pole_trip",
        ),
    )
)

CASES = (*BOLTS, *GROUNDS, *CABLES, *CONTROL, *WINDINGS, *ARRESTERS, *FUSES)
