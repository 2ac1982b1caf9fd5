"""Every error raised on purpose has a family, and every family a status."""

import importlib
from collections.abc import Iterator

import pytest

from models.errors import Fault, InputError, NotFoundError, WitnessmarkError
from tests.architecture.sources import modules, said
from webapp.errors import STATUS, status_of


def _load_everything() -> None:
    for room in ("models", "webapp"):
        for path in modules(room):
            name = said(path).removesuffix(".py").replace("/", ".")
            importlib.import_module(name.removesuffix(".__init__"))


def _kinds(base: type[WitnessmarkError]) -> Iterator[type[WitnessmarkError]]:
    for kind in base.__subclasses__():
        yield kind
        yield from _kinds(kind)


def test_every_error_has_a_status_by_its_family() -> None:
    _load_everything()
    kinds = set(_kinds(WitnessmarkError))
    assert kinds >= set(STATUS)
    orphans = {kind for kind in kinds if not set(kind.__mro__) & set(STATUS)}
    assert {f"{kind.__module__}.{kind.__name__}" for kind in orphans} == set()


def test_every_status_is_one_of_an_error() -> None:
    assert all(400 <= status <= 599 for status in STATUS.values())


class _StrangeError(InputError):
    """A kind of input error that the table does not name."""


STATUSES: dict[str, tuple[WitnessmarkError, int]] = {
    "a family": (NotFoundError("round", 7), 404),
    "a kind of a family": (_StrangeError(Fault(field="a", message="b")), 422),
}


@pytest.mark.parametrize(("error", "status"), STATUSES.values(), ids=STATUSES)
def test_status_of(error: WitnessmarkError, status: int) -> None:
    assert status_of(error) == status


def test_an_input_error_says_every_fault_with_its_place() -> None:
    error = InputError(
        Fault(field="value", message="Too low."), Fault(field="", message="Late.")
    )
    assert str(error) == "value: Too low.; Late."
    assert len(error.faults) == 2


def test_a_thing_not_found_carries_what_identifies_it() -> None:
    error = NotFoundError("round", 7)
    assert (error.what, error.identifier, str(error)) == ("round", 7, "no round 7")
