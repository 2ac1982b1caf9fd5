"""Stop work: pressed on any page, read and released by name."""

from webapp.safety.routes import bp

__all__ = ["bp"]
