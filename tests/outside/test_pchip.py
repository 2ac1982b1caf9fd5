"""Monotone interpolation of the core, and of its columns, against scipy's."""

import numpy as np
import pytest

from models.judging.batch.curves import Curves
from models.judging.pchip import Pchip
from tests.outside.oracles import ask


@pytest.mark.slow
def test_values_and_slopes_are_those_of_scipy() -> None:
    cases = ask("oracle_pchip.py")
    assert len(cases) == 200
    for case in cases:
        ours = Pchip(case["x"], case["y"])
        alone = [ours.value(at) for at in case["at"]]
        steep = [ours.slope(at) for at in case["at"]]
        assert alone == pytest.approx(case["value"], rel=1e-9, abs=1e-9)
        assert steep == pytest.approx(case["slope"], rel=1e-9, abs=1e-9)
        rows = np.pad([case["x"], case["y"]], ((0, 0), (0, 2)), constant_values=np.nan)
        many = Curves(*np.repeat(rows[:, None], len(case["at"]), axis=1))
        places = np.array(case["at"])
        with np.errstate(all="ignore"):  # as the reader of columns works
            values, slopes = many.value(places), many.slope(places)
        assert values == pytest.approx(case["value"], rel=1e-9, abs=1e-9)
        assert slopes == pytest.approx(case["slope"], rel=1e-9, abs=1e-9)
