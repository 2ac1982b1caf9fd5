"""What a table is about: tables are looked for by subject, not by document."""

from collections.abc import Iterable

from models.criteria.library import TableView

# A table belongs to the subject with the longest beginning of its key.
SUBJECTS: dict[str, tuple[str, ...]] = {
    "Insulation resistance": (
        "insulation_",
        "polarization_",
        "machine_insulation",
        "transformer_insulation",
        "control_wiring_insulation",
    ),
    "Withstand and rated levels": ("field_", "withstand_", "rated_", "control_wiring_"),
    "Discharges": ("discharge", "partial_discharge"),
    "Altitude": ("altitude_",),
    "Contacts, conductors and joints": (
        "contact_",
        "metal",
        "bolt_",
        "fuse_",
        "thermographic_",
    ),
    "Vacuum interrupters": ("vacuum_",),
    "SF6 and sealed tanks": ("sf6_", "gas_"),
    "Breaker times and control": (
        "breaker_",
        "pole_",
        "control_voltage",
        "undervoltage_",
    ),
    "Relays": ("relay_",),
    "Instrument transformers": (
        "ct_",
        "vt_",
        "knee_",
        "instrument_",
        "field_instrument_",
    ),
    "Cables and arresters": ("cable_", "arrester_"),
    "Ground": ("ground_",),
}
OTHER = "Other tables"


def subject_of(key: str) -> str:
    """Return the heading under which the library lists the table *key*."""
    fitting = [
        (len(begin), subject)
        for subject, begins in SUBJECTS.items()
        for begin in begins
        if key.startswith(begin)
    ]
    return max(fitting)[1] if fitting else OTHER


def by_subject(tables: Iterable[TableView]) -> list[tuple[str, list[TableView]]]:
    """Return (heading, its tables, those used by default first)."""
    found: dict[str, list[TableView]] = {}
    for table in tables:
        found.setdefault(subject_of(table.key), []).append(table)
    return [
        (subject, sorted(found[subject], key=lambda t: (not t.default, t.title)))
        for subject in (*SUBJECTS, OTHER)
        if subject in found
    ]
