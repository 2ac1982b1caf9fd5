"""One module for each thing a user does.

Services take a `Session` and keywords, receive clock, person and identifiers as
arguments, and never commit.
"""
