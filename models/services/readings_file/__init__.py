"""Readings from a file that a test set wrote: tried on a card, then recorded on it."""
