"""Student's t against the printed table of coverage factors."""

import pytest

from models.analysis.student import coverage_factor, probability_within

# JCGM 100:2008 (GUM), table G.2, from memory: degrees of freedom -> t at 90, 95
# and 99 %, as printed, to two decimals.
PRINTED: dict[int, tuple[float, float, float]] = {
    1: (6.31, 12.71, 63.66),
    2: (2.92, 4.30, 9.92),
    3: (2.35, 3.18, 5.84),
    4: (2.13, 2.78, 4.60),
    5: (2.02, 2.57, 4.03),
    8: (1.86, 2.31, 3.36),
    10: (1.81, 2.23, 3.17),
    20: (1.72, 2.09, 2.85),
}


@pytest.mark.parametrize(("freedom", "printed"), PRINTED.items(), ids=map(str, PRINTED))
def test_the_printed_table(freedom: int, printed: tuple[float, float, float]) -> None:
    found = [coverage_factor(level, freedom) for level in (0.90, 0.95, 0.99)]
    assert found == pytest.approx(printed, abs=0.00501)


@pytest.mark.parametrize("freedom", [1, 2, 3, 6, 7])
def test_it_is_the_inverse(freedom: int) -> None:
    for level in (0.1, 0.5, 0.9, 0.999):
        found = coverage_factor(level, freedom)
        assert probability_within(found, freedom) == pytest.approx(level, rel=1e-12)
