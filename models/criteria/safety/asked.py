"""Which lines are asked: of a crew, under a clearance, at a cell, on a card."""

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any

from models.criteria.safety.facts import Facts, card_facts, cell_facts, work_facts
from models.criteria.safety.line import Asked, CardList, Only, SafetyLine
from models.criteria.safety.loader import books
from models.criteria.safety.shapes import CardLists, Scope
from models.criteria.safety.work import PlannedCard, Work, WorkCell, groups_of
from models.procedures import PROCEDURES

INSULATION = "IR"


def crew_codes(works: Iterable[Work]) -> list[str]:
    """Return the lines of a crew that works on these lineups."""
    cards = [card for work in works for card in work.cards]
    planned = groups_of(cards)
    return [
        line.code
        for line in _of_scope("crew")
        if not line.only.planned or planned & set(line.only.planned)
    ]


def isolation_codes(works: Iterable[Work]) -> list[str]:
    """Return the lines of a clearance, for any of these lineups."""
    asked = {
        line.code
        for work in works
        for line in _of_scope("isolation")
        if _fits(line.only, work.gear, work_facts(work))
    }
    return [line.code for line in _of_scope("isolation") if line.code in asked]


def return_codes() -> list[str]:
    """Return the lines before a clearance is handed back."""
    return [line.code for line in _of_scope("return")]


def point_codes(work: Work, cell: WorkCell) -> list[str]:
    """Return the lines of a cell, for its holder."""
    facts = cell_facts(work, cell)
    here = groups_of(work.cards_in(cell))
    section = groups_of(list(work.cards_on_bus(cell.bus)))
    return [
        line.code
        for line in _of_scope("point")
        if _fits(line.only, work.gear, facts)
        and (not line.only.here or here & set(line.only.here))
        and (not line.only.section or section & set(line.only.section))
    ]


def card_lists(work: Work, card: PlannedCard) -> CardLists:
    """Return what is asked on a card, by supply or method, and what it waits for."""
    said = PROCEDURES[card.procedure].safety
    facts = card_facts(work, card)
    return {
        "by": said.by,
        "lists": {
            value: _lists(work, group, facts) for value, group in said.groups.items()
        },
        "rests_on": rests_on(work, next(iter(said.groups.values()))),
        "waits": list(_waits(work, card, said.waits_for)),
    }


@cache
def _of_scope(scope: Scope) -> list[SafetyLine]:
    return [line for line in books().lines.values() if line.scope == scope]


def _fits(only: Only, gear: str, facts: Facts) -> bool:
    if only.gears and gear not in only.gears:
        return False
    return all(facts[word] is not False for word in only.facts)


def rests_on(work: Work, code: str) -> list[Scope]:
    """Return the scopes that have to stand; gear that never was live counts as dead."""
    group = books().groups[code]
    dead = work_facts(work)["carried_load"] is False
    return list(group.on_dead_gear if dead and group.on_dead_gear else group.rests_on)


def _lists(work: Work, code: str, facts: Facts) -> dict[str, list[str]]:
    found = list_for(code, facts)
    return {
        "before": codes_asked(found.before, facts),
        "after": codes_asked(found.after, facts),
        "cautions": [c.key for c in books().cautions.values() if code in c.groups],
        "shown": [
            one.text
            for one in books().shown
            if code in one.groups and (not one.gears or work.gear in one.gears)
        ],
        "entry": [one.text for one in books().shown if code in one.entry],
    }


def list_for(code: str, facts: Facts) -> CardList:
    """Return the first list of a group for which every word of `where` is so."""
    lists = books().groups[code].lists
    return next(one for one in lists if all(facts[word] for word in one.where))


def codes_asked(asked: Sequence[Asked], facts: Facts) -> list[str]:
    """Return the codes of a list, but those that are known not to apply."""
    return [
        one.code
        for one in asked
        if one.if_fact is None or facts[one.if_fact] is not False
    ]


def _waits(
    work: Work, card: PlannedCard, codes: Sequence[str]
) -> Iterable[dict[str, Any]]:
    """Yield each condition; in gas-insulated gear the cells of a bus share the gas."""
    cell = work.cell(card.cell)
    shared = cell is not None and work.gear == "gas_insulated"
    bus = cell.bus if cell is not None else ""
    for code in codes:
        if code == "HV4":
            near = work.cards_on_bus(bus) if shared else iter(work.cards)
            cards = [
                one.id
                for one in near
                if INSULATION in one.groups
                and (shared or one.apparatus == card.apparatus)
            ]
            yield {"code": code, "cards": cards}
        elif shared:
            yield {"code": code, "cells": [o.id for o in work.cells if o.bus == bus]}
