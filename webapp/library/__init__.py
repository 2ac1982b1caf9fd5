"""Library: published tables, what would be required, a calculator, the gas line."""

from webapp.library import calculator_routes, gas_routes
from webapp.library.routes import bp

__all__ = ["bp", "calculator_routes", "gas_routes"]
