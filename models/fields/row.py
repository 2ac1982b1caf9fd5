"""One field: what it is called, what it may hold, and how it is said."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from models.fields.units import said

LONGEST_TEXT = 600  # characters


class Kind(StrEnum):
    """What a field holds."""

    NUMBER = "number"
    CHOICE = "choice"
    TEXT = "text"
    YES_NO = "yes_no"


class Role(StrEnum):
    """What a field is for."""

    CONDITION = "condition"
    NAMEPLATE = "nameplate"
    RELAY = "relay"
    SITE = "site"
    COLUMN = "column"
    INSTRUMENT = "instrument"
    PROGRAM = "program"


@dataclass(frozen=True, kw_only=True, eq=False)
class Field:
    """A condition, a nameplate field, a setting or a column of a readings file.

    *unit* is the one that is stored, *read* those converted to it; *unit_of* names
    the field that holds the unit instead. *least* and *greatest* are allowed
    themselves, *above* and *below* are not. *many*: a list of such numbers.
    *begins*: the name is the beginning of a name. *about* and *blank* stand in the
    description of readings files.
    """

    name: str
    label: str
    roles: frozenset[Role]
    kind: Kind = Kind.NUMBER
    short: str = ""
    unit: str = ""
    read: Sequence[str] = ()
    unit_of: str = ""
    least: float | None = None
    above: float | None = None
    greatest: float | None = None
    below: float | None = None
    decimals: int | None = None
    whole: bool = False
    many: bool = False
    exponent: bool = False
    begins: bool = False
    choices: Sequence[str] = ()
    words: Mapping[str, str] = field(default_factory=dict)
    hint: str = ""
    about: str = ""
    blank: str = ""

    @property
    def said_unit(self) -> str:
        """The unit as people write it; empty for a pure number."""
        return said(self.unit)

    @property
    def in_sentence(self) -> str:
        """What it is called inside a sentence."""
        return self.short or self.label[:1].lower() + self.label[1:]

    def choice_words(self, choice: str) -> str:
        """Return a choice as people write it."""
        return self.words.get(choice, choice.replace("_", " "))

    def allows(self, number: float) -> bool:
        """Whether *number*, in the field's unit, lies in the range."""
        return (
            (self.least is None or number >= self.least)
            and (self.above is None or number > self.above)
            and (self.greatest is None or number <= self.greatest)
            and (self.below is None or number < self.below)
            and not (self.whole and number % 1)
        )

    @cached_property
    def refusal(self) -> str:
        """The sentence that refuses a value; `{typed}` stands for it."""
        if self.kind is Kind.TEXT:
            return f"{self.label}: write at most {LONGEST_TEXT} characters."
        if self.kind is not Kind.NUMBER:
            known = self.choices or ("yes", "no")
            return f"{self.label}: '{{typed}}' is none of {', '.join(known)}."
        return f"{self.label}: {{typed}} must be {self.allowed}."

    @property
    def allowed(self) -> str:
        """The range in words: `between -60 and 250 °C`; empty: any number."""
        whole = "a whole number" if self.whole else ""
        return " ".join(filter(None, (whole, self._range, self.said_unit)))

    @property
    def _range(self) -> str:
        if self.least is not None and self.greatest is not None:
            return f"between {_plain(self.least)} and {_plain(self.greatest)}"
        ends = (
            ("at least", self.least),
            ("above", self.above),
            ("at most", self.greatest),
            ("below", self.below),
        )
        return " and ".join(f"{w} {_plain(end)}" for w, end in ends if end is not None)


def _plain(number: float) -> str:
    return f"{number:.10g}" if abs(number) < 1e10 else f"{number:g}"
