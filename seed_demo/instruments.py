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
    ("IR-07", "5 kV insulation tester", "70113", ["insulation_resistance"], TESTER),
    (
        "CR-02",
        "200 A micro-ohmmeter",
        "31840",
        ["contact_resistance", "fuse_resistance"],
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
        ["relay_timing"],
        (
            Range(unit="s", low=0, high=1000, pct_reading=0.05, fixed=0.001),
            Range(does="applies", unit="A", supply="ac", low=0, high=100),
        ),
    ),
    (
        "BT-01",
        "breaker timer",
        "20416",
        ["breaker_timing"],
        (Range(unit="ms", low=0, high=60000, pct_reading=0.05, fixed=0.1),),
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
}


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
