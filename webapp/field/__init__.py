"""The field area: a round on a tablet, from one document, to entries with own keys."""

from webapp.field.routes import bp

__all__ = ["bp"]
