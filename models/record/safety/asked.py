"""Which lines a scope asks for, item by item, as the registers now stand."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from models.record.safety.given import Given, person_noted
from models.record.safety.state import Crew, Isolation, Item, State

Json = Mapping[str, Any]


class Asked(NamedTuple):
    """A place for one line: its code, and its item or person."""

    code: str
    item: str | None = None
    person: str | None = None


def shared_of_crew(state: State, crew: Crew) -> Iterator[Asked]:
    """Yield the lines that one of the crew gives for all."""
    for code in state.book["crew"]:
        each = state.book["lines"][code]["each"]
        if "person" not in each:
            yield from _for_items(state, crew.id, code, crew.lineups)


def shared_of_isolation(state: State, isolation: Isolation) -> Iterator[Asked]:
    """Yield the lines of a clearance but those that each person gives."""
    for code in state.book["isolation"]:
        line = state.book["lines"][code]
        if "person" not in line["each"] and asked_now(
            state, isolation.id, line["when"]
        ):
            yield from _for_items(state, isolation.id, code, [isolation.lineup])


def of_point(state: State, cell: str) -> list[str]:
    """Return the codes of a cell."""
    point = state.points.get(cell)
    of = point.isolation if point else None
    return [
        code
        for code in state.book["point"].get(cell, [])
        if of not in state.isolations
        or asked_now(state, of or "", state.book["lines"][code]["when"], cell)
    ]


def of_card(state: State, card: str, choice: str | None, part: str) -> list[str]:
    """Return the codes of a card, *part* before or after, for its supply or method."""
    lists = state.lists(card)["lists"]
    key = choice if choice in lists else chosen(state, card)
    codes: list[str] = lists[key][part] if key in lists else []
    return codes


def chosen(state: State, card: str) -> str | None:
    """Return the choice of the latest reading, or the first that the card has."""
    lists = state.lists(card)["lists"]
    last = state.card(card).choice
    return last if last in lists else next(iter(lists), None)


def of_return(state: State, isolation: Isolation) -> Iterator[Asked]:
    """Yield the lines of a return of the whole, or of the part that is returned."""
    cells = cells_to_return(state, isolation)
    people = [g.by_key for g in signed_on(state, isolation)]
    for code in state.book["returning"]:
        line = state.book["lines"][code]
        if code == "P09a" and isolation.returning_cells is not None:
            continue  # the clearance itself is released with the whole only
        if not asked_now(state, isolation.id, line["when"]):
            continue
        if "cell" in line["each"]:
            yield from (
                Asked(code, cell)
                for cell in cells
                if _given_in(state, isolation, line["when"], cell)
            )
        elif "person" in line["each"]:
            yield from (Asked(code, None, key) for key in people)
        else:
            yield Asked(code)


def cells_to_return(state: State, isolation: Isolation) -> list[str]:
    """Return the cells of the part, or all that were entered under the clearance."""
    if isolation.returning_cells is not None:
        return isolation.returning_cells
    return [
        cell
        for cell, point in state.points.items()
        if point.isolation == isolation.id and cell not in isolation.returned
    ]


def signed_on(state: State, isolation: Isolation) -> list[Given]:
    """Return who signed on to a clearance, once each."""
    codes = state.own_of_isolation
    if not codes:
        return []
    return state.lines.people("isolation", isolation.id, codes[0])


def in_charge(state: State, crew: Crew) -> str | None:
    """Return the key of who is in charge of a shift."""
    given = state.lines.find("crew", crew.id, "G01a")
    return given.by_key if given else None


def second_person(state: State, crew: Crew) -> str | None:
    """Return the key of the second qualified person who is named."""
    return person_noted(state.lines.find("crew", crew.id, "G02a"), "person")


def _for_items(state: State, of: str, code: str, lineups: list[str]) -> Iterator[Asked]:
    """Yield a line once, or for each lineup or item that it is asked for."""
    line = state.book["lines"][code]
    each = line["each"]
    if not each:
        yield Asked(code)
    for kind in each:
        if kind == "lineup":
            yield from (Asked(code, lineup) for lineup in lineups)
            continue
        for item in state.register(kind, of):
            if fits(line["when"].get("item", {}), item):
                yield Asked(code, item.item)


def fits(wanted: Json, item: Item) -> bool:
    """Return whether an item may be of the kind wanted; a field it lacks is doubt."""
    return all(
        name not in item.fields or item.fields[name] in values
        for name, values in wanted.items()
    )


def asked_now(state: State, of: str, when: Json, cell: str | None = None) -> bool:
    """Return whether a clearance's registers make a line be asked, in a cell or at all.

    A ground counts after it was taken off too: what went on is counted off.
    """
    if when.get("new_shift"):
        return state.isolations[of].walk_due is not None
    if when.get("grounds"):
        return bool(state.registers.get(("ground", of)))
    if "register" not in when:
        return True
    register = when["register"]
    items = state.registers.get((register, of), {}).values()
    wanted = {name: values for name, values in when.items() if name != "register"}
    return any(
        (register == "ground" or not item.gone)
        and cell in (None, item.fields.get("cell", cell))
        and fits(wanted, item)
        for item in items
    )


def _given_in(state: State, isolation: Isolation, when: Json, cell: str) -> bool:
    """Return whether a line of a cell was given under this clearance, if one must."""
    lines = [state.lines.find("point", cell, code) for code in when.get("given", [])]
    return "given" not in when or any(
        one is not None and one.at >= isolation.opened for one in lines
    )
