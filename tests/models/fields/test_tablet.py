"""What a browser is told of a field: units that may be typed behind a number."""

import pytest

from models.fields import fields_for_tablet


@pytest.mark.parametrize(
    ("field", "unit", "typed", "value"),
    [
        # definitions: (59 - 32) x 5 / 9; 1 bar is 100 kPa; 21.93 psi x 6.894757 kPa
        ("temperature_c", "°F", 59.0, 15.0),
        ("temperature_c", "degF", -4.0, -20.0),
        ("first_kpa", "bar", 1.512, 151.2),
        ("first_kpa", "psi", 21.93, 151.202),
        ("elapsed_h", "d", 90.0, 2160.0),
    ],
)
def test_a_unit_behind_the_number_is_converted(
    field: str, unit: str, typed: float, value: float
) -> None:
    zero, times, over, plus = fields_for_tablet()[field]["units"][unit]
    assert (typed - zero) * times / over + plus == pytest.approx(value, rel=1e-6)


def test_cycles_need_a_frequency_and_are_not_among_them() -> None:
    for about in fields_for_tablet().values():
        assert "cycles" not in about.get("units", {})
