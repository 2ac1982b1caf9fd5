"""Why a waveform record, or a measurement in one, is refused."""

from models.errors import Fault, InputError

AGAIN = "Export the record again, or read the time by another way and type it."


def refused(why: str, field: str = "file") -> InputError:
    """Return the error, at the field that was sent or chosen."""
    return InputError(Fault(field=field, message=why))
