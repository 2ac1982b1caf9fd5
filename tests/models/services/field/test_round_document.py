"""What the round document says of a procedure."""

from models.procedures import PROCEDURES
from models.services.field.round_document import procedures_json


def test_a_tablet_knows_which_readings_may_lie_below_zero() -> None:
    said = {name: one.get("signed", False) for name, one in procedures_json().items()}
    assert said == {name: one.signed for name, one in PROCEDURES.items()}
    assert True in said.values()
