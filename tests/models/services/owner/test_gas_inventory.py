"""Gas by tank and year: sums that add up, and what was added after the acceptance."""

from datetime import UTC, datetime
from uuid import uuid4

import pytest

from models.services.owner.gas_inventory import TankGas, by_gas


def tank(plate_kg: float | None, later: tuple[float, float], until: int) -> TankGas:
    """Return a tank that was filled in 2020, and topped up in *until*."""
    made = TankGas(
        apparatus_id=uuid4(), label="tank 1", cell_number="1", plate_kg=plate_kg
    )
    made.filled.add("in", 12.0)
    made.later.add("in", later[0])
    made.later.add("out", later[1])
    made.moments.extend(datetime(year, 6, 1, tzinfo=UTC) for year in (2020, until))
    return made


@pytest.mark.parametrize(
    ("made", "rate"),
    [
        # 0.6 kg of 12 kg in ten years: 0.5 %/year (3652 days of 365.25)
        (tank(12.0, (1.1, 0.5), 2030), 0.50007),
        (tank(12.0, (0.5, 1.1), 2030), None),
        (tank(12.0, (0.6, 0.0), 2020), None),
        (tank(None, (0.6, 0.0), 2030), None),
    ],
    ids=["topped up", "more taken out", "the same day", "no mass on the plate"],
)
def test_what_was_added_is_a_rate(made: TankGas, rate: float | None) -> None:
    wanted = rate if rate is None else pytest.approx(rate, rel=1e-4)
    assert made.lost_pct_year == wanted
    assert made.total.net_kg == pytest.approx(made.filled.net_kg + made.later.net_kg)


def test_no_gas_is_added_to_another() -> None:
    """Sulfur hexafluoride is reported to authorities by its mass; dry air is not."""
    tanks = []
    for gas, kg in (("SF6", 4.5), ("air", 1.2), ("SF6", 3.0)):
        made = TankGas(
            apparatus_id=uuid4(),
            label="tank",
            cell_number="1",
            plate_kg=None,
            gas=gas,
        )
        made.filled.add("in", kg)
        tanks.append(made)
    found = {gas: moved.net_kg for gas, moved in by_gas(tanks).items()}
    assert found == {"SF6": 7.5, "air": 1.2}
