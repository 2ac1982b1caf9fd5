"""Files: what people attached, sent as what it is; the list that any page includes."""

from webapp.files.routes import bp

__all__ = ["bp"]
