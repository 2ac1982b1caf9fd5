"""What the codes and numbers of a column mean."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.choices import METHODS, SUPPLIES
from models.judging.quantities import UNITS
from models.judging.values import Outcome
from models.judging.verdicts import WORST_FIRST, Verdict

Numbers = NDArray[np.float64]
Codes = NDArray[np.integer[Any]]
Found = NDArray[np.uint8]
Mask = NDArray[np.bool_]

CALIBRATIONS = ("in_date", "lapsed", "none")
ANOTHER = "another"  # a word that is known but that no rule has

# What a code means is its place here; zero is none. The greater of two verdicts
# is the worse one.
VERDICT_CODES: Sequence[Verdict | None] = (None, *reversed(WORST_FIRST))
OUTCOME_CODES: Sequence[Outcome | None] = (None, *Outcome)
UNIT_CODES: Sequence[str | None] = (None, *UNITS)
WORD_CODES: Mapping[str, Sequence[str | None]] = {
    "supply": (None, *SUPPLIES, ANOTHER),
    "method": (None, *METHODS, ANOTHER),
    "calibration": (None, *CALIBRATIONS, ANOTHER),
}
WITHIN, UNJUDGED, MARGINAL, OUTSIDE = (
    np.uint8(VERDICT_CODES.index(verdict))
    for verdict in (
        Verdict.WITHIN,
        Verdict.UNJUDGED,
        Verdict.MARGINAL,
        Verdict.OUTSIDE,
    )
)
BROKE_DOWN = OUTCOME_CODES.index(Outcome.BROKE_DOWN)
NO_TRIP = OUTCOME_CODES.index(Outcome.NO_TRIP)
OPERATED = OUTCOME_CODES.index(Outcome.OPERATED)
UNKNOWN = np.array(np.nan)
NO_CODE = np.array(0)
NO_GROUP = np.array(-1)
NOWHERE = np.zeros((), np.bool_)
EVERYWHERE = ~NOWHERE
