"""Preferred ratings and accessibility types: the pages written a second time."""

from tests.models.criteria.printed.shapes import M, P, Printed, X, each

# The national standard prints 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8 and their
# multiples of ten as the series R10.
CONTINUOUS_IEC = (
    *(200, 250, 400, 500, 630, 800),
    *(1000, 1250, 1600, 2000, 2500, 3150, 4000),
)

TABLES: Printed = {
    "preferred_continuous": (
        "of rated_a provenance",
        [
            # A builder's page on metal-clad gear; the others from memory.
            *each(P, *(("metal-clad", a) for a in (1200, 2000, 3000))),
            ("metal-clad", 4000, M),
            *each(M, *(("interrupter", a) for a in (600, 1200, 2000))),
            *each(X, *(("IEC", a) for a in CONTINUOUS_IEC)),
        ],
    ),
    # A national standard modified from IEC 62271-200, posted in full: 4.0; 6.3; 8.0;
    # 12.5; 16; 20; 25; 31.5; 40; 50; 63; 80; 100; 125 kA.
    "preferred_short_time": (
        "rated_ka provenance",
        each(
            P,
            *((ka,) for ka in (4, 6.3, 8, 12.5, 16, 20, 25)),
            *((ka,) for ka in (31.5, 40, 50, 63, 80, 100, 125)),
        ),
    ),
    # A page after IEC 62271-1: generally 1 s, sometimes 3 s; the others from memory.
    "preferred_duration": (
        "of rated_s provenance",
        [
            ("short circuit", 0.5, M),
            ("short circuit", 1, P),
            ("short circuit", 2, M),
            ("short circuit", 3, P),
            *each(M, ("arc", 0.1), ("arc", 0.5), ("arc", 1)),
        ],
    ),
    # A trade note on the types of IEEE C37.20.7-2007; its line on type 2 is cut off.
    "arc_types": (
        "means provenance",
        [
            ("at the front", P),
            ("at the front, the back and the sides", M),
            ("no other suffix applies", P),
            ("in designated low-voltage compartments too", P),
            ("between compartments next to each other too", P),
            ("but for the sides that are named", P),
        ],
    ),
}
