"""The run of all checks, stage by stage."""
