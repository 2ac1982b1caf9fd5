"""A lineup as a table: a row an apparatus, the lineup's own ratings before it."""

from models.record.lineup_table.read_rows import read_rows
from models.record.lineup_table.write_rows import table_of, template_of

__all__ = ["read_rows", "table_of", "template_of"]
