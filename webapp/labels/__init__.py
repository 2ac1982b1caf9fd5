"""Labels with a code: printed for a lineup, and what one opens."""

from webapp.labels.routes import bp

__all__ = ["bp"]
