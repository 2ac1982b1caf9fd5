"""What pages and printed sheets say alike: conditions, limits, sources, rows."""
