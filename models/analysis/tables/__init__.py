"""Tables that people fill in: the cells of a CSV file or a workbook, as texts.

A cell is (text, what is wrong with it), a row its number with its cells, a sheet its
rows that are not blank. Nothing here knows what the cells mean.
"""

from models.analysis.tables.any_csv import as_utf8
from models.analysis.tables.read_table import read_any_table, read_table

__all__ = ["as_utf8", "read_any_table", "read_table"]
