"""What keeps the record: the log, its order, and the checks of it."""
