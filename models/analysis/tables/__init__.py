"""Tables that people fill in: the cells of a CSV file or a workbook, as texts.

A cell is (text, what is wrong with it), a row its number with its cells, a sheet its
rows that are not blank. Nothing here knows what the cells mean.
"""

from models.analysis.tables.read_table import read_table

__all__ = ["read_table"]
