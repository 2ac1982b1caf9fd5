"""Readings in a table that a test set wrote: which column is what, row by row."""

from models.record.readings_table.columns import Columns
from models.record.readings_table.read import ReadRow, read_readings

__all__ = ["Columns", "ReadRow", "read_readings"]
