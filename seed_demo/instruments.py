"""The register of the demo's test firm: invented instruments and calibrations."""

from datetime import date

from sqlalchemy.orm import Session

from models.record.instrument import Range
from models.services.setup import assets
from seed_demo.people import TEST_FIRM, fixed_id

# Invented; an insulation tester shows more coarsely above 10 GOhm.
TESTER = (
    Range(unit="GOhm", low=0, high=10, pct_reading=5, fixed=0.02),
    Range(unit="GOhm", low=10, high=1000, pct_reading=10, digits=3, resolution=0.1),
    Range(does="applies", unit="kV", supply="dc", low=0.25, high=5),
)
# tag, name, serial, procedures, ranges
INSTRUMENTS: tuple[tuple[str, str, str, list[str], tuple[Range, ...]], ...] = (
    (
        "IR-07",
        "5 kV insulation tester",
        "70113",
        ["insulation_resistance", "control_wiring_insulation"],
        TESTER,
    ),
    (
        "CR-02",
        "200 A micro-ohmmeter",
        "31840",
        [
            "contact_resistance",
            "fuse_resistance",
            "ground_point_to_point",
            "cable_shield",
        ],
        (
            Range(unit="uOhm", low=0, high=200, pct_reading=0.5, fixed=0.2),
            Range(unit="uOhm", low=200, high=2e6, pct_reading=0.5, pct_range=0.001),
            Range(does="applies", unit="A", supply="dc", low=5, high=200),
        ),
    ),
    (
        "HV-01",
        "60 kV ac, 80 kV dc test set",
        "5512",
        ["dielectric_withstand", "vacuum_integrity"],
        (
            Range(does="applies", unit="kV", supply="ac", low=0.5, high=60),
            Range(does="applies", unit="kV", supply="dc", low=0.5, high=80),
        ),
    ),
    (
        "VM-01",
        "magnetron vacuum test set",
        "3071",
        ["vacuum_integrity", "vacuum_pressure"],
        (Range(unit="Pa", low=1e-5, high=1, pct_reading=20),),
    ),
    (
        "RT-04",
        "relay test set",
        "88027",
        ["relay_timing", "relay_pickup", "relay_settings", "end_to_end_time"],
        (
            Range(unit="s", low=0, high=1000, pct_reading=0.05, fixed=0.001),
            Range(unit="A", low=0, high=100, pct_reading=0.3, fixed=0.002),
            Range(does="applies", unit="A", supply="ac", low=0, high=100),
        ),
    ),
    (
        "BT-01",
        "breaker timer",
        "20416",
        ["breaker_timing", "contact_travel", "coil_current", "spring_charging"],
        (
            Range(unit="ms", low=0, high=60000, pct_reading=0.05, fixed=0.1),
            Range(unit="mm", low=0, high=300, fixed=0.1),
            Range(unit="A", low=0, high=50, pct_reading=1),
        ),
    ),
    (
        "AL-01",
        "arc-light tester, flash and timer",
        "4410",
        ["arc_flash_relay"],
        (Range(unit="ms", low=0, high=1000, fixed=0.1),),
    ),
    (
        "CA-01",
        "instrument transformer analyser",
        "90233",
        [
            *("ct_excitation", "ct_ratio", "ct_polarity", "ct_winding_resistance"),
            *("ct_burden", "vt_ratio"),
        ],
        (
            Range(unit="V", low=0, high=2500, pct_reading=0.2, fixed=0.005),
            Range(unit=":1", low=0.8, high=5000, pct_reading=0.1),
            Range(unit="Ohm", low=0, high=300, pct_reading=0.2, fixed=0.0005),
            Range(does="applies", unit="V", supply="ac", low=0, high=2500),
            Range(does="applies", unit="A", supply="ac", low=0, high=10),
        ),
    ),
    (
        "VL-01",
        "0.1 Hz cable test set, 30 kV",
        "6127",
        ["cable_withstand", "cable_tan_delta"],
        (
            Range(unit="1e-3", low=0, high=1000, fixed=0.1),
            Range(does="applies", unit="kV", supply="ac", low=0.5, high=30),
        ),
    ),
    (
        "MM-01",
        "multimeter with clamp",
        "55810",
        [
            *("heater_current", "vt_fuses", "fuse_rating", "phase_identity"),
            *("phase_rotation", "cable_sheath"),
        ],
        (Range(unit="A", low=0, high=1000, pct_reading=1, fixed=0.01),),
    ),
    (
        "LC-01",
        "capacitance bridge",
        "2214",
        ["insulation_capacitance"],
        (Range(unit="pF", low=1, high=1e6, pct_reading=0.5),),
    ),
    (
        "GR-01",
        "ground tester, three probes",
        "7733",
        ["ground_resistance"],
        (Range(unit="Ohm", low=0, high=2000, pct_reading=2, fixed=0.02),),
    ),
    (
        "GA-01",
        "gas analyser, returns its sample",
        "3309",
        ["gas_moisture", "gas_purity"],
        (
            Range(unit="degC", low=-60, high=20, fixed=2),
            Range(unit="%", low=0, high=100, fixed=0.3),
        ),
    ),
    (
        "PG-01",
        "precision pressure gauge",
        "12018",
        ["gas_density", "gas_contact", "gas_leak_rate"],
        (Range(unit="kPa", low=0, high=600, fixed=0.25),),
    ),
    (
        "SC-01",
        "cylinder scale",
        "870",
        ["gas_mass"],
        (Range(unit="kg", low=0, high=150, fixed=0.05),),
    ),
    (
        "TW-01",
        "torque wrench, half inch",
        "19-204",
        ["bolt_torque"],
        (Range(unit="lb-ft", low=10, high=150, pct_reading=4),),
    ),
    (
        "PD-01",
        "hand-held discharge detector",
        "4106",
        ["discharge_survey"],
        (Range(unit="dB", low=-10, high=80, fixed=1),),
    ),
    (
        "TC-01",
        "thermal camera",
        "65220",
        ["thermography"],
        (Range(unit="K", low=-50, high=300, fixed=0.5),),
    ),
    (
        "IR-03",
        "2.5 kV insulation tester, spare",
        "60045",
        ["insulation_resistance"],
        (
            Range(unit="GOhm", low=0, high=200, pct_reading=5, fixed=0.05),
            Range(does="applies", unit="kV", supply="dc", low=0.25, high=2.5),
        ),
    ),
)
OUT_OF_CALIBRATION = "IR-03"  # its calibration ran out before the half-done round


LABORATORY = "Sextant Calibration Room"
MAKERS = {  # tag -> maker, type
    "IR-07": ("Fathom Line Instruments", "M5"),
    "CR-02": ("Fathom Line Instruments", "C200"),
    "HV-01": ("Lantern Test Sets", "T60"),
    "VM-01": ("Lantern Test Sets", "P1"),
    "RT-04": ("Tide Gate Protection", "injection set, three phases"),
    "BT-01": ("Fathom Line Instruments", "B3"),
    "IR-03": ("Fathom Line Instruments", "M2"),
    "AL-01": ("Tide Gate Protection", "flash A1"),
    "CA-01": ("Fathom Line Instruments", "X4"),
    "VL-01": ("Lantern Test Sets", "V30"),
    "MM-01": ("Fathom Line Instruments", "D5"),
    "LC-01": ("Fathom Line Instruments", "L2"),
    "GR-01": ("Lantern Test Sets", "E3"),
    "GA-01": ("Kelp Gas Instruments", "three in one"),
    "PG-01": ("Kelp Gas Instruments", "G6"),
    "SC-01": ("Kelp Gas Instruments", "S150"),
    "TW-01": ("Bollard Tools", "click, 150"),
    "PD-01": ("Lantern Test Sets", "H1"),
    "TC-01": ("Fathom Line Instruments", "C8"),
}


def usual_instrument(procedure: str) -> str:
    """Return the tag of the one that is taken for a procedure, unless one is named."""
    return next(tag for tag, _, _, can, _ in INSTRUMENTS if procedure in can)


def certificate_no(serial: str, year: int) -> str:
    """Return the number of the certificate of that year's calibration."""
    return f"C{year % 100}-{serial}"


def add_instruments(session: Session, years: range) -> None:
    """Add the register, each instrument calibrated every March of *years*."""
    for tag, name, serial, procedures, ranges in INSTRUMENTS:
        assets.add_instrument(
            session,
            instrument_id=fixed_id(tag),
            organisation_id=fixed_id(TEST_FIRM),
            tag=tag,
            name=name,
            serial=serial,
            procedures=procedures,
            ranges=ranges,
            maker=MAKERS[tag][0],
            type_=MAKERS[tag][1],
        )
        for year in years:
            if tag == OUT_OF_CALIBRATION and year > years.start + 1:
                continue
            assets.add_calibration(
                session,
                calibration_id=fixed_id(f"{tag} {year}"),
                instrument_id=fixed_id(tag),
                calibrated_on=date(year, 3, 3),
                due_on=date(year + 1, 3, 9),
                certificate_no=certificate_no(serial, year),
                laboratory=LABORATORY,
            )
