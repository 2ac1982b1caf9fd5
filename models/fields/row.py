"""One field: what it is called, what it may hold, and how it is said."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from models.fields.units import said
from models.words import in_sentence, say

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
    *begins*: the name is the beginning of a name. *lasts*: it holds for hours at a
    place, so that a card may take it over from another. *own*: each card measures or
    counts its own, so that it takes over none. *about* and *blank* stand in the
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
    lasts: bool = False
    own: bool = False
    choices: Sequence[str] = ()
    words: Mapping[str, str] = field(default_factory=dict)
    hint: str = ""
    about: str = ""
    blank: str = ""

    @property
    def said_unit(self) -> str:
        """The unit as people write it; empty for a pure number.

        A difference of temperatures is written as the thermometer shows it, in °C.
        """
        return said("degC" if self.unit == "K" else self.unit)

    @property
    def in_sentence(self) -> str:
        """What it is called inside a sentence."""
        return self.short or in_sentence(self.label)

    def choice_words(self, choice: str) -> str:
        """Return a choice as people write it."""
        return self.words.get(choice, choice.replace("_", " "))

    def allows(self, number: float) -> bool:
        """Whether *number*, in the field's unit, lies in the range."""
        least, greatest, above, below = self._ends
        return (
            least <= number <= greatest
            and above < number < below
            and not (self.whole and number % 1)
        )

    @cached_property
    def _ends(self) -> tuple[float, float, float, float]:
        return (
            -math.inf if self.least is None else self.least,
            math.inf if self.greatest is None else self.greatest,
            -math.inf if self.above is None else self.above,
            math.inf if self.below is None else self.below,
        )

    @cached_property
    def refusal(self) -> str:
        """The sentence that refuses a value; `{typed}` stands for it."""
        if self.kind is Kind.TEXT:
            return say("field.text", label=self.label, characters=str(LONGEST_TEXT))
        typed = {"label": self.label, "typed": "{typed}"}
        if self.kind is not Kind.NUMBER:
            choices = ", ".join(self.choices or ("yes", "no"))
            return say("field.choice", **typed, choices=choices)
        return say("field.number", **typed, allowed=self.allowed)

    @property
    def allowed(self) -> str:
        """The range in words: `between -60 and 250 °C`; empty: any number."""
        said = self._range
        if self.whole:
            said = say("field.whole", range=said)
        return f"{said} {self.said_unit}".strip()

    @property
    def _range(self) -> str:
        ends = {
            end: _plain(number)
            for end in ("least", "above", "greatest", "below")
            if (number := getattr(self, end)) is not None
        }
        if set(ends) == {"least", "greatest"}:
            return say("field.between", **ends)
        said = [say(f"field.{end}", end=number) for end, number in ends.items()]
        return say("list.and", first=said[0], second=said[1]) if said[1:] else said[0]


def _plain(number: float) -> str:
    return f"{number:.10g}" if abs(number) < 1e10 else f"{number:g}"
