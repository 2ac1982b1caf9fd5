"""Every field that the program knows: conditions, nameplates, settings, columns."""

from models.fields.names import name_now
from models.fields.row import Field, Kind, Role
from models.fields.table import FIELDS, field, fields, find_field, narrowed
from models.fields.tablet import field_for_tablet, fields_for_tablet
from models.fields.values import check_value, read_value

__all__ = [
    "FIELDS",
    "Field",
    "Kind",
    "Role",
    "check_value",
    "field",
    "field_for_tablet",
    "fields",
    "fields_for_tablet",
    "find_field",
    "name_now",
    "narrowed",
    "read_value",
]
