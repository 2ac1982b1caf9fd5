"""CT burden: at most the rated one, and at most that at which a fault saturates it."""

from collections.abc import Iterator
from typing import Any

from models.judging.notes import limit_factor
from models.judging.notes.placing import Made, placed
from models.judging.rules import Rule
from models.judging.tables import Criteria
from models.procedures import precedence
from models.procedures.ct_core import P_FORM, c_class, core_of
from models.procedures.gives import Gives
from models.procedures.precedence import Claim
from models.procedures.procedure import GEARS, Givable, Points, Procedure, ask, safety
from models.procedures.saturation import Fault, demand, highest_burden
from models.procedures.subject import Subject

BASE = "V"
LIMIT = Givable(
    name="ct_burden_limit",
    title="Burden of a current transformer, at most",
    side="greatest",
    units=("Ohm", "mOhm"),
)
PROCEDURE = Procedure(
    name="ct_burden",
    title="CT burden and saturation",
    method=(
        "With the CT shorted at its own terminals and off the circuit inject rated "
        "secondary current into the circuit and read the voltage at the terminals, "
        "once for each phase loop and once for the residual one. Volts over amperes "
        "is the burden, leads and relay included."
    ),
    units=("V", "mV"),
    default_unit="V",
    asks=(ask("injected_a", "Injected secondary current"),),
    outcomes=(),
    preconditions=(),
    safety=safety("CT_links"),
    gears=GEARS,
    apparatus=("ct",),
    points=Points("listed"),
    rests_on=(
        "ct_class",
        "ct_alf",
        "ct_burden_va",
        "ct_primary_a",
        "ct_secondary_a",
        "ct_rct_ohm",
        "fault_ka",
        "x_over_r",
        "remanence_pct",
        "saturation_form",
    ),
    givable=(LIMIT,),
    questions=(Gives(of="saturation", part="burden", over="injected_a"),),
    worse="higher",
    scale="linear",
    example={
        "value": "1.72",
        "unit": "V",
        "injected_a": "5",
        "accuracy_pct": "0.5",
        "ct_class": "C400",
        "ct_primary_a": "1200",
        "ct_secondary_a": "5",
        "fault_ka": "20",
        "x_over_r": "12",
    },
)
NOT_KNOWN = (
    "Neither the rated burden of the CT is known, nor class, ratio, fault current and "
    "X/R for the burden at which it saturates."
)


def compile_rule(subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule: volts over amperes against both burdens."""
    rated = precedence.decides(
        [*precedence.given(subject, LIMIT), _rated(subject, criteria)]
    )
    found = [one for one in (rated, _saturating(subject, criteria)) if one is not None]
    cites = [one.cite for one in found]
    notes = placed(cites, _limit_factor(subject, criteria))
    return Rule(
        procedure=PROCEDURE.name,
        unit=BASE,
        gates=list(_gates(subject)),
        derive=[
            {
                "name": "burden",
                "op": "over",
                "of": "reading",
                "by": {
                    "on": "injected_a",
                    "unit": "A",
                    "label": "injected current",
                },
                "unit": "Ohm",
                "label": "burden",
            }
        ],
        bounds=[
            {"kind": "high", "of": "burden", "unit": "Ohm", "value": c.value, "cite": n}
            for n, c in enumerate(found)
        ],
        unjudged=[] if found else [{"reason": NOT_KNOWN}],
        notes=[*notes],
        cite=cites,
    )


def _limit_factor(subject: Subject, criteria: Criteria) -> Made | None:
    """Return the note on the limit factor; None of another class than P."""
    found = core_of(subject, criteria)
    if found is None or found[1]["row"] != P_FORM:
        return None
    core, form = found
    fault_ka, x_over_r = subject.number("fault_ka"), subject.number("x_over_r")
    asked = None
    if fault_ka is not None and x_over_r is not None:
        asked = demand(core, Fault(fault_a=1000 * fault_ka, x_over_r=x_over_r))
    source = criteria.table("ct_saturation").cite(form)
    return limit_factor.make(
        "burden", core.times, core.rct_ohm, core.burden_ohm, asked, source
    )


def _gates(subject: Subject) -> Iterator[dict[str, Any]]:
    rated_a = subject.number("ct_secondary_a")
    wanted: dict[str, Any] = {"known": True}
    if rated_a is not None:
        wanted = {"at_least": rated_a, "unit": "A"}
    yield {
        "on": "injected_a",
        **wanted,
        "reason": "Inject the rated secondary current.",
    }


def _rated(subject: Subject, criteria: Criteria) -> Claim | None:
    """Return rated VA over rated current squared, of the plate or of the C class."""
    rated_a, va = subject.number("ct_secondary_a"), subject.number("ct_burden_va")
    if rated_a is None:
        return None
    if va is not None:
        return precedence.on_nameplate(LIMIT, va / rated_a**2, "rated burden")
    row = c_class(subject, criteria)
    if row is None:
        return None
    note = f"{row['burden_va']:g} VA over {rated_a:g} A squared"
    cite = criteria.table("ct_relaying").cite(row, note)
    return precedence.tabled(LIMIT, row["burden_va"] / rated_a**2, cite)


def _saturating(subject: Subject, criteria: Criteria) -> Claim | None:
    """Return the burden at which the fault just does not saturate the core."""
    found = core_of(subject, criteria)
    fault_ka, x_over_r = subject.number("fault_ka"), subject.number("x_over_r")
    if found is None or fault_ka is None or x_over_r is None:
        return None
    core, form = found
    remanence = min(subject.number("remanence_pct") or 0.0, 100.0)
    fault = Fault(fault_a=1000 * fault_ka, x_over_r=x_over_r, remanence_pct=remanence)
    left = f", {remanence:g} % remanence" if remanence else ""
    said = f"at {fault_ka:g} kA with X/R {x_over_r:g}{left}"
    cite = criteria.table("ct_saturation").cite(form, said)
    return precedence.tabled(LIMIT, highest_burden(core, fault), cite)
