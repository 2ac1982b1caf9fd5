"""Find the procedures: a Python module or a TOML file each, in their folders."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from importlib import import_module
from importlib.resources import files
from pkgutil import iter_modules
from types import MappingProxyType

from models.errors import CriteriaError, NotFoundError
from models.judging import Criteria, Rule
from models.procedures import computed
from models.procedures.declaration import Declaration, parse_declaration
from models.procedures.notes import with_notes
from models.procedures.procedure import Givable, Procedure
from models.procedures.subject import Subject

Compile = Callable[[Subject, Criteria], Rule]


@cache
def registry() -> Mapping[str, Procedure]:
    """Return every procedure by its name, in the order of the names.

    Raises CriteriaError where two have one name, or one quantity is given twice.
    """
    found: dict[str, Procedure] = {}
    for procedure, _ in _found():
        if procedure.name in found:
            raise CriteriaError(f"the procedure '{procedure.name}' is there twice")
        found[procedure.name] = procedure
    return MappingProxyType(dict(sorted(found.items())))


@cache
def _compilers() -> Mapping[str, Compile]:
    return {procedure.name: compiled for procedure, compiled in _found()}


@cache
def declarations() -> Mapping[str, Declaration]:
    """Return every declared procedure by its name.

    Raises CriteriaError with every fault of a file, with its place.
    """
    folder = files("models.procedures").joinpath("declared")
    found = list(folder.iterdir()) if folder.is_dir() else []
    return {
        file.name.removesuffix(".toml"): parse_declaration(
            file.name, file.read_text("utf-8")
        )
        for file in sorted(found, key=lambda file: file.name)
        if file.name.endswith(".toml")
    }


def _found() -> Iterator[tuple[Procedure, Compile]]:
    for declared in declarations().values():
        yield declared.procedure, declared.compile_rule
    for module in iter_modules(computed.__path__, f"{computed.__name__}."):
        one = import_module(module.name)
        yield one.PROCEDURE, one.compile_rule


def _givable(procedures: Mapping[str, Procedure]) -> Mapping[str, Givable]:
    found: dict[str, Givable] = {}
    for procedure in procedures.values():
        for one in procedure.givable:
            if one.name in found:
                raise CriteriaError(f"the quantity '{one.name}' is given twice")
            found[one.name] = replace(one, procedure=procedure.name)
    return MappingProxyType(found)


def compile_rule(procedure: str, subject: Subject, criteria: Criteria) -> Rule:
    """Return the rule of *procedure* for *subject*; NotFoundError for no such one."""
    if procedure not in registry():
        raise NotFoundError("procedure", procedure)
    rule = _compilers()[procedure](subject, criteria)
    return with_notes(rule, registry()[procedure].notes, subject, criteria)


PROCEDURES = registry()
GIVABLE = _givable(PROCEDURES)
