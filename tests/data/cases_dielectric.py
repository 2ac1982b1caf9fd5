"""Golden cases: dielectric withstand.

By hand: the field level by gear and rating (Table 100.2), 0.75 of a rated withstand,
or a level given; held 60 s; 5 % above at most.
"""

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

CLAD15 = Subject(gear="metal_clad", rated_kv=15.0)
RATED38 = CLAD15.but(rated_withstand_kv=38.0)


def at(
    text: str = "held",
    test_kv: float | None = 27.0,
    duration_s: float | None = 60.0,
    supply: str | None = "ac",
) -> Given:
    conditions = {"test_kv": test_kv, "duration_s": duration_s, "supply": supply}
    known = {name: value for name, value in conditions.items() if value is not None}
    if supply == "dc":
        known["dc_consent"] = "book"
    return Given(text=text, conditions=known)


def no_consent(text: str) -> Given:
    conditions = {"test_kv": 37.5, "duration_s": 60.0, "supply": "dc"}
    return Given(text=text, conditions=conditions)


def case(
    name: str,
    given: Given,
    found: Hand | None = None,
    why: str = "",
    subject: Subject = CLAD15,
) -> Case:
    return Case(
        name=f"dielectric: {name}",
        procedure="dielectric_withstand",
        subject=subject,
        readings=(given,),
        by_hand=() if found is None else (found,),
        why=why,
    )


HELD = (
    case(
        "held at the level for a minute",
        at(),
        hand("within", corrected=None, limit_low=27, limit_high=None),
        "metal-clad 15 kV: 27 kV ac, 60 s",
    ),
    case("a little below the level", at(test_kv=26.9), hand("unjudged", limit_low=27)),
    case("the level but for rounding", at(test_kv=26.9999999999)),
    case("5 % above", at(test_kv=28.35), hand("within"), "27 x 1.05 = 28.35"),
    case("more than 5 % above", at(test_kv=28.351), hand("marginal"), "over 28.35"),
    case("too short", at(duration_s=59.9), hand("unjudged")),
    case("longer", at(duration_s=300.0), hand("within")),
    case("too low and too short", at(test_kv=20.0, duration_s=10.0), hand("unjudged")),
    case("too high and too short", at(test_kv=30.0, duration_s=10.0), hand("marginal")),
    case("voltage not known", at(test_kv=None), hand("unjudged")),
    case("duration not known", at(duration_s=None), hand("unjudged")),
    case("neither is known", at(test_kv=None, duration_s=None), hand("unjudged")),
    case("supply not said", at(supply=None), hand("unjudged", limit_low=None)),
    case("a supply of another kind", at(supply="vlf"), hand("unjudged")),
)

BROKE = (
    case("broke down at the level", at("broke_down"), hand("outside", limit_low=None)),
    case("broke down far below", at("broke_down", test_kv=5.0), hand("outside")),
    case("broke down, nothing else known", at("broke_down", None, None, None)),
    case(
        "broke down where there is no level",
        at("broke_down"),
        hand("outside"),
        subject=Subject(gear="gas_insulated", rated_kv=15.0),
    ),
)

LEVELS = (
    case("dc of metal-clad", at(test_kv=37.5, supply="dc"), hand("within")),
    case(
        "dc of metal-clad, and the maker's consent not said",
        no_consent("held"),
        hand("unjudged", limit_low=37.5),
    ),
    case("dc broke down without consent", no_consent("broke_down"), hand("outside")),
    case("dc too low", at(test_kv=37.4, supply="dc"), hand("unjudged", limit_low=37.5)),
    case(
        "no dc level at 38 kV",
        at(test_kv=84.0, supply="dc"),
        hand("unjudged", limit_low=None),
        subject=Subject(gear="metal_clad", rated_kv=38.0),
    ),
    case(
        "no dc level for metal-enclosed",
        at(test_kv=37.5, supply="dc"),
        hand("unjudged"),
        subject=Subject(gear="metal_enclosed", rated_kv=15.0),
    ),
    case(
        "a dc level given",
        at(test_kv=52.0, supply="dc"),
        hand("within", limit_low=52),
        subject=Subject(gear="metal_enclosed", rated_kv=15.0, level_dc_kv=52.0),
    ),
    case(
        "metal-enclosed 8.25 kV",
        at(test_kv=19.0),
        hand("within", limit_low=19),
        subject=Subject(gear="metal_enclosed", rated_kv=8.25),
    ),
    case(
        "metal-clad 8.25 kV at the level of metal-enclosed",
        at(test_kv=19.0),
        hand("unjudged", limit_low=27),
        subject=Subject(gear="metal_clad", rated_kv=8.25),
    ),
    case(
        "metal-enclosed 15.5 kV",
        at(test_kv=37.0),
        hand("within", limit_low=37),
        subject=Subject(gear="metal_enclosed", rated_kv=15.5),
    ),
    case(
        "three quarters of the nameplate",
        at(test_kv=37.5),
        hand("within", limit_low=37.5),
        "0.75 x 50 = 37.5",
        subject=Subject(gear="gas_insulated", rated_kv=24.0, rated_withstand_kv=50.0),
    ),
    case(
        "the nameplate goes before the table",
        at(test_kv=27.0),
        hand("unjudged", limit_low=28.5),
        "0.75 x 38 = 28.5",
        subject=Subject(gear="metal_clad", rated_kv=15.0, rated_withstand_kv=38.0),
    ),
    case(
        "a level given goes before both",
        at(test_kv=30.0),
        hand("within", limit_low=30),
        subject=Subject(
            gear="metal_clad", rated_kv=15.0, rated_withstand_kv=50.0, level_ac_kv=30.0
        ),
    ),
    case(
        "at the rated withstand",
        at(test_kv=38.0),
        hand("marginal", limit_low=28.5),
        "above 28.5 x 1.05 = 29.925, not above 38",
        subject=RATED38,
    ),
    case(
        "above the rated withstand",
        at(test_kv=38.1),
        hand("outside", limit_low=28.5),
        subject=RATED38,
    ),
    case(
        "above the rated withstand, and too short",
        at(test_kv=40.0, duration_s=10.0),
        hand("outside"),
        subject=RATED38,
    ),
    case(
        "dc at the peak of the rated withstand",
        at(test_kv=53.732, supply="dc"),
        hand("marginal", limit_low=37.5),
        "1.414 x 38 = 53.732",
        subject=RATED38,
    ),
    case(
        "dc above it",
        at(test_kv=53.8, supply="dc"),
        hand("outside", limit_low=37.5),
        subject=RATED38,
    ),
    case(
        "gas-insulated without a level",
        at(),
        hand("unjudged", limit_low=None),
        subject=Subject(gear="gas_insulated", rated_kv=15.0),
    ),
    case(
        "a rating that the table does not have",
        at(),
        hand("unjudged"),
        subject=Subject(gear="metal_clad", rated_kv=12.0),
    ),
    case("nothing known of the gear", at(), hand("unjudged"), subject=Subject()),
)

CASES = (*HELD, *BROKE, *LEVELS)
