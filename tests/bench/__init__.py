"""Benches: time and memory, as a table and as JSON."""
