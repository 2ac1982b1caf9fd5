"""What a rule is compiled from: the gear's and the apparatus's nameplate."""

from collections.abc import Sequence
from dataclasses import dataclass

from models.judging.given import Given

GEARS = ("metal_enclosed", "metal_clad", "gas_insulated")
INSULATIONS = ("solid", "oil")
CONDUCTORS = ("copper", "aluminium")
SUPPLIES = ("ac", "dc")
METHODS = ("ac", "dc", "magnetron")


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """Ratings and settings; None: not given. Units are in the names.

    *limit* is the maker's limit for the quantity of the procedure, in
    *limit_unit*; *level_ac_kv* and *level_dc_kv* are withstand levels given for
    this gear (for a vacuum interrupter: the maker's). All three are the maker's
    data on the nameplate; *given* holds what a maker or a project gave besides.
    Of a relay, *bands* names the table of assigned error by multiple, whose error
    *tolerance_pct* then is, and *timed_against* says what decides: the setting or
    the measured pickup.
    *altitude_m* is that of the site: said beside a withstand, judged by never.
    """

    gear: str | None = None
    rated_kv: float | None = None
    rated_withstand_kv: float | None = None
    insulation: str | None = None
    conductor: str | None = None
    limit: float | None = None
    limit_unit: str | None = None
    level_ac_kv: float | None = None
    level_dc_kv: float | None = None
    curve: str | None = None
    pickup_a: float | None = None
    time_dial: float | None = None
    tolerance_pct: float | None = None
    tolerance_s: float | None = None
    altitude_m: float | None = None
    given: Sequence[Given] = ()
    bands: str | None = None
    ceiling_multiple: float | None = None
    minimum_time_s: float | None = None
    pickup_error_pct: float | None = None
    current_error_pct: float | None = None
    timed_against: str | None = None
