"""The procedures: a file each turns a subject and the criteria into a rule."""

from models.procedures.judging import judge
from models.procedures.procedure import Procedure
from models.procedures.registry import (
    GIVABLE,
    PROCEDURES,
    compile_rule,
    registry,
)
from models.procedures.subject import Subject

__all__ = [
    "GIVABLE",
    "PROCEDURES",
    "Procedure",
    "Subject",
    "compile_rule",
    "judge",
    "registry",
]
