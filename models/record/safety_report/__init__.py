"""Safety of a round in a package: the rows of one page, and every statement."""
