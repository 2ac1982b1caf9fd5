"""Dielectric withstand: held for a minute at the field level."""

from models.judging.kinds import withstand
from models.judging.precedence import Claim, decides
from models.judging.procedures import Procedure, ask
from models.judging.rules import Rule
from models.judging.series import LEAKAGE
from models.judging.subject import SUPPLIES, Subject
from models.judging.tables import Criteria

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
        ask("supply", "Supply", choices=SUPPLIES),
        ask("test_kv", "Voltage reached", "kV"),
        ask("duration_s", "Held for", "s"),
        ask("temperature_c", "Air temperature", "°C", required=False),
        ask("humidity_pct", "Relative humidity", "%", required=False),
    ),
    outcomes=("held", "broke_down"),
    preconditions=("HV1", "HV2", "HV3", "HV4", "HV5", "HV6", "HV7", "DC1", "DC2"),
    series=(LEAKAGE,),
)

AC, DC = "withstand_ac", "withstand_dc"
ABSENT = {
    "ac": "No ac field level is known for this gear: ask the maker, or enter the "
    "rated power-frequency withstand from the nameplate.",
    "dc": "No dc field level is known for this gear: the published table refers to "
    "the maker.",
}


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule, with a level for each supply or the reason why there is none."""
    published = {"metal_clad": "field_metal_clad", "metal_enclosed": "field_enclosed"}
    ac: list[Claim | None] = [
        *withstand.given(subject, AC, subject.level_ac_kv),
        withstand.of_nameplate(subject, criteria, AC),
    ]
    dc: list[Claim | None] = [*withstand.given(subject, DC, subject.level_dc_kv)]
    if subject.gear in published:
        table = criteria.table(published[subject.gear])
        ac.append(withstand.of_rating(table, subject.rated_kv, "ac_kv", AC))
        dc.append(withstand.of_rating(table, subject.rated_kv, "dc_kv", DC))
    bounds, unjudged, cites = withstand.bounds_and_reasons(
        "supply", {"ac": decides(ac), "dc": decides(dc)}, ABSENT
    )
    return Rule(
        procedure=PROCEDURE.name,
        unit=None,
        gates=[
            {
                "on": "supply",
                "known": True,
                "reason": "It is not said whether the supply was ac or dc.",
            }
        ],
        bounds=bounds,
        unjudged=unjudged,
        cite=cites,
    )
