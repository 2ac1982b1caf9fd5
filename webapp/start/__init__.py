"""Start: the first steps of an installation, and how it stands."""

from webapp.start.routes import bp

__all__ = ["bp"]
