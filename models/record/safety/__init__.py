"""Safety at its scope: what the acts of a crew make stand, lapse and end."""

from models.record.safety.people import person_key
from models.record.safety.safety import Safety

__all__ = ["Safety", "person_key"]
