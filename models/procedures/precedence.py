"""Which criterion decides: project, maker, published table, common practice."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from models.judging.tables import MAKER
from models.procedures.given import SCOPES, STANDINGS, Given, said_figure
from models.procedures.procedure import Givable
from models.procedures.subject import Subject

SETTINGS = "Settings of this relay"
_OWNERS = {"project": "the project's", "maker": "the maker's"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """A figure that may decide; *said* names it where another goes before it."""

    value: float
    cite: Mapping[str, Any]
    said: str


def given(subject: Subject, quantity: Givable) -> list[Claim]:
    """Return what is given for *subject*, the first to decide first.

    A project's goes before a maker's; of one standing, that for the apparatus
    before that for its kind before that for the lineup.
    """
    found = [one for one in subject.given if one.quantity == quantity.name]
    return [_of_given(one, quantity) for one in sorted(found, key=_rank)]


def _rank(one: Given) -> tuple[int, int]:
    return list(STANDINGS).index(one.standing), SCOPES.index(one.scope)


def _of_given(one: Given, quantity: Givable) -> Claim:
    figure = said_figure(quantity, one.value)
    return Claim(
        value=one.value,
        cite={
            "document": one.document,
            "edition": one.edition,
            "table": one.clause,
            "row": "",
            "provenance": one.standing,
            "note": f"entered as version {one.version}",
            "criterion": one.criterion,
            "version": one.version,
        },
        said=f"{_OWNERS[one.standing]} {figure} ({one.document})",
    )


def on_nameplate(
    quantity: Givable, value: float | None, line: str = ""
) -> Claim | None:
    """Return the maker's figure on the nameplate, in the quantity's first unit.

    *line* is the line of the nameplate, where its citation is to name it.
    """
    if value is None:
        return None
    figure = said_figure(quantity, value)
    cite = {**MAKER, "row": line}
    return Claim(value=value, cite=cite, said=f"the maker's {figure} on the nameplate")


def as_set(quantity: Givable, value: float | None, line: str = "") -> Claim | None:
    """Return a figure that a relay is set to, in the quantity's first unit."""
    if value is None:
        return None
    cite = {**MAKER, "document": SETTINGS, "row": line, "provenance": "project"}
    return Claim(value=value, cite=cite, said=f"{line} {said_figure(quantity, value)}")


def tabled(
    quantity: Givable, value: float, cite: Mapping[str, Any], said: str = "the table's"
) -> Claim:
    """Return a figure of a published table, or one that is worked out from it."""
    return Claim(value=value, cite=cite, said=f"{said} {said_figure(quantity, value)}")


def decides(claims: Iterable[Claim | None]) -> Claim | None:
    """Return the first claim that there is; None: there is none.

    A maker's or a project's says in its citation before which others it goes.
    """
    known = [claim for claim in claims if claim is not None]
    if not known:
        return None
    first, others = known[0], known[1:]
    if first.cite["provenance"] not in STANDINGS or not others:
        return first
    before = f"goes before {_listed([other.said for other in others])}"
    note = ", ".join(part for part in (first.cite["note"], before) if part)
    return Claim(value=first.value, cite={**first.cite, "note": note}, said=first.said)


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
