"""Every error raised on purpose.

One base, families by situation. `webapp.errors` maps the families to HTTP status
in one table; each error names the fact and carries what identifies it.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong, with its place (a field, or a line and column)."""

    field: str
    message: str

    def __str__(self) -> str:
        return f"{self.field}: {self.message}" if self.field else self.message


class WitnessmarkError(Exception):
    """Base of all errors raised on purpose."""


class InputError(WitnessmarkError):
    """What was given cannot be used; carries every fault found, not only the first."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__("; ".join(str(fault) for fault in faults))
        self.faults: Sequence[Fault] = faults


class NotFoundError(WitnessmarkError):
    """The thing does not exist, or not for this person."""

    def __init__(self, what: str, identifier: object) -> None:
        super().__init__(f"no {what} {identifier}")
        self.what = what
        self.identifier = identifier


class ForbiddenError(WitnessmarkError):
    """The person may see the thing but not do this to it."""


class RevokedTabletError(ForbiddenError):
    """A lead has closed the program to this tablet; whoever uses it is not meant."""


class ConflictError(WitnessmarkError):
    """The thing's state does not allow it; what to do instead is in the message."""


class CriteriaError(WitnessmarkError):
    """A criteria table or a rule cannot be read: a fault of the installation."""


class StoreError(WitnessmarkError):
    """The store of files does not answer, or lacks one: a fault of the installation."""


class WrongPasswordError(InputError):
    """The password does not open the person's key."""

    def __init__(self) -> None:
        super().__init__(
            Fault(field="password", message="This password does not open your key.")
        )
