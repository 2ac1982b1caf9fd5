"""How much burden a current transformer carries before a fault saturates it.

With the dc offset a fault asks for (1 + X/R) times its current (the form of IEEE
C37.110, from memory). A C class delivers 20 times rated current into its standard
burden, a P class its accuracy limit factor into its rated burden, by their definitions.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """A protection core: currents in A, resistances in ohms.

    *times* rated current is what it delivers into *burden_ohm* and its own *rct_ohm*,
    which is 0 where the winding is left out of the comparison.
    """

    primary_a: float
    secondary_a: float
    times: float
    burden_ohm: float
    rct_ohm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """The fault at the site; *remanence_pct* is what one before left in the core."""

    fault_a: float
    x_over_r: float
    remanence_pct: float = 0.0


def demand(core: Core, fault: Fault) -> float:
    """Return so many times rated current as the fault asks for, its offset included."""
    return (1 + fault.x_over_r) * fault.fault_a / core.primary_a


def saturation_number(core: Core, fault: Fault, burden_ohm: float) -> float:
    """Return what *burden_ohm* asks of the core; above its `times` it saturates."""
    share = (core.rct_ohm + burden_ohm) / (core.rct_ohm + core.burden_ohm)
    return demand(core, fault) * share / (1 - fault.remanence_pct / 100)


def highest_burden(core: Core, fault: Fault) -> float:
    """Return the burden in ohms at which the core just does not saturate.

    0 where its own winding alone saturates it.
    """
    left = core.times * (1 - fault.remanence_pct / 100) / demand(core, fault)
    return max(0.0, left * (core.rct_ohm + core.burden_ohm) - core.rct_ohm)
