"""Library: published tables and how they are checked, calculators."""

from webapp.library import calculator_routes, check_routes, gas_routes, settings_routes
from webapp.library.routes import bp

__all__ = ["bp", "calculator_routes", "check_routes", "gas_routes", "settings_routes"]
