"""The record's core: what a round is, and what may be said of it."""
