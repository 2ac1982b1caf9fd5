"""How much an export holds of each kind."""

from dataclasses import dataclass, field


@dataclass(slots=True)
class Counted:
    """How much of each kind was written, for the page that explains it."""

    rounds: list[str] = field(default_factory=list)
    packages: int = 0
    readings: int = 0
    files: int = 0
    rows: dict[str, int] = field(default_factory=dict)
    log: int = 0
