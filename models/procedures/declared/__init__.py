"""Procedures that are declared, a TOML file each."""
