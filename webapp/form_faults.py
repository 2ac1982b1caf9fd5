"""Put the faults that a service found beside the fields that they name."""

from wtforms import Form

from models.errors import InputError


def place_faults(form: Form, error: InputError) -> list[str]:
    """Add each fault to its field; return those that name no field of the form."""
    elsewhere = []
    for fault in error.faults:
        field = form._fields.get(fault.field)
        if field is None:
            elsewhere.append(fault.message)
        else:
            field.errors = [*field.errors, fault.message]
    return elsewhere
