"""Dielectric withstand: held for a minute at the field level."""

from functools import partial

from models.judging.choices import SUPPLIES
from models.judging.rules import Rule
from models.judging.series import LEAKAGE
from models.judging.tables import Criteria
from models.procedures import withstand
from models.procedures.given import STANDINGS
from models.procedures.precedence import Claim, decides
from models.procedures.procedure import (
    AIR_TEMPERATURE,
    GEARS,
    HUMIDITY,
    SWITCHING,
    Givable,
    Points,
    Procedure,
    ask,
    safety,
)
from models.procedures.subject import Subject

AC, DC = (
    Givable(
        name=f"withstand_{supply}",
        title=f"Field withstand level, {supply}",
        side="level",
        units=("kV",),
    )
    for supply in SUPPLIES
)
PROCEDURE = Procedure(
    name="dielectric_withstand",
    title="Dielectric withstand",
    method=(
        "After the insulation resistance was found good, raise the voltage of one "
        "phase steadily to the field level, the other phases grounded, hold it for "
        "one minute and bring it back to zero. Record whether it held."
    ),
    units=(),
    default_unit="",
    asks=(
        ask("supply"),
        ask("test_kv", "Voltage reached"),
        ask("duration_s"),
        ask("leakage_ma", required=False),
        ask("dc_consent", required=False, when={"supply": "dc"}),
        ask("polarity", required=False, when={"supply": "dc"}),
        AIR_TEMPERATURE,
        HUMIDITY,
    ),
    outcomes=("held", "broke_down"),
    preconditions=("HV1", "HV2", "HV3", "HV4", "HV5", "HV6", "HV7", "DC1", "DC2"),
    safety=safety(by="supply", ac="ACW", dc="DCW", waits_for=("HV4", "HV6")),
    series=(LEAKAGE,),
    gears=GEARS,
    apparatus=("bus", *SWITCHING),
    points=Points("phases"),
    rests_on=(
        "gear",
        "rated_kv",
        "rated_withstand_kv",
        "level_ac_kv",
        "level_dc_kv",
        "altitude_m",
    ),
    columns={"limit": ("level_ac_kv", "level_dc_kv")},
    chosen_by="supply",
    givable=(AC, DC),
    notes=("humidity", "dew_point", "altitude", "leakage"),
    example={
        "outcome": "held",
        "supply": "ac",
        "test_kv": "27",
        "duration_s": "60",
        "gear": "metal_clad",
        "rated_kv": "15",
        "rated_withstand_kv": "36",
    },
)

ABSENT = {
    "ac": "No ac field level is known for this gear: ask the maker, or enter the "
    "rated power-frequency withstand from the nameplate.",
    "dc": "No dc field level is known for this gear: the published table refers to "
    "the maker.",
}

# What broke down stays outside: the gate is one of the last.
CONSENT = {
    "on": "dc_consent",
    "known": True,
    "when": {"supply": "dc"},
    "reason": "Dc needs the maker's consent, and it is not said where that stands.",
    "last": True,
}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule, with a level for each supply or the reason why there is none."""
    level = partial(withstand.level, subject, "supply", "level_{}_kv")
    published = {"metal_clad": "field_metal_clad", "metal_enclosed": "field_enclosed"}
    ac: list[Claim | None] = [
        *withstand.given(subject, AC, level("ac")),
        withstand.of_nameplate(subject, criteria, AC),
    ]
    dc: list[Claim | None] = [*withstand.given(subject, DC, level("dc"))]
    rated_kv = subject.number("rated_kv")
    if (gear := subject.word("gear")) in published:
        table = criteria.table(published[gear])
        ac.append(withstand.of_rating(table, rated_kv, "ac_kv", AC))
        dc.append(withstand.of_rating(table, rated_kv, "dc_kv", DC))
    levels = {"ac": decides(ac), "dc": decides(dc)}
    bounds, unjudged, cites = withstand.bounds_and_reasons(
        "supply", levels, ABSENT, withstand.rated(subject)
    )
    return Rule(
        procedure=PROCEDURE.name,
        unit=None,
        gates=[
            {
                "on": "supply",
                "known": True,
                "reason": "It is not said whether the supply was ac or dc.",
            },
            *([CONSENT] if _needs_consent(levels["dc"]) else []),
        ],
        bounds=bounds,
        unjudged=unjudged,
        cite=cites,
    )


def _needs_consent(level: Claim | None) -> bool:
    """Return whether a dc level is a published one: the maker's own is its consent."""
    return level is not None and level.cite["provenance"] not in STANDINGS
