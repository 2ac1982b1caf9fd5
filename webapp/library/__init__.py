"""Library: published tables, what would be required, and a calculator."""

from webapp.library import calculator_routes
from webapp.library.routes import bp

__all__ = ["bp", "calculator_routes"]
