"""Lines as plain JSON: what the tablet holds of a line, a field, a card."""

from typing import Any, Literal, TypedDict

Scope = Literal["crew", "isolation", "point", "test", "after", "return"]
Register = Literal["set", "place", "source", "ground", "put_back"]
FieldKind = Literal[
    "text", "number", "time", "choice", "person", "people", "grounds", "cell"
]


class BookLine(TypedDict):
    """A line as the tablet holds it; `when` is what its being asked rests on.

    `each`: "person", "lineup", "set", "place", "source", "ground", "cell"; empty:
    once in its scope. `lapses`: the change words it lapses by. `suspends`: a line of
    the cell that is off from this line until one of `until` is given on the card:
    {"code": "G13e", "until": ["G14a"]}; empty: none.
    """

    text: str
    scope: Scope
    each: list[str]
    fields: list[str]
    lapses: list[str]
    when: dict[str, Any]
    suspends: dict[str, Any]
    never_waived: bool
    source: str
    shown: list[str]
    caution: str | None


class BookField(TypedDict):
    """What is noted with a line or stands in a register.

    Values by kind: text and choice a string, number a number, time RFC 3339, person a
    Person, people a list of them, grounds a list of ground items, cell its id.
    """

    label: str
    unit: str | None
    kind: FieldKind
    choices: list[str]
    required: bool


class CardLists(TypedDict):
    """The codes asked on a card, before and after, by supply or method.

    `by` is the condition that chooses among `lists` (its values); None: one list "".
    Each list has besides the keys of `cautions` and the sentences of `shown` that
    belong to the head of the card.
    """

    by: str | None
    lists: dict[str, dict[str, list[str]]]  # value -> before, after, cautions, shown
    rests_on: list[Scope]
    waits: list[
        dict[str, Any]
    ]  # {"code": "HV4", "cards": [...]}, {"code": "HV6", "cells": [...]}
