"""Read the groups with their lists, the cautions, what is shown, the rule sets."""

import re
from collections.abc import Mapping, Sequence

from models.criteria.safety.line import (
    Asked,
    CardList,
    Caution,
    Group,
    RuleSet,
    Shown,
)
from models.criteria.safety.read import SOURCES, Data, Place
from models.criteria.safety.words import CARD_FACTS, SCOPES
from models.fields import field as field_named

ASKED = re.compile(r"(\w+)(?: if (\w+))?")
GROUP: Mapping[str, str] = {
    "title": "text",
    "rests_on": "texts",
    "on_dead_gear": "texts",
    "primary": "flag",
    "list": "tables",
}
LIST: Mapping[str, str] = {
    "of": "text",
    "where": "texts",
    "before": "texts",
    "after": "texts",
}
CAUTION: Mapping[str, str] = {
    "key": "text",
    "title": "text",
    "text": "text",
    "lines": "texts",
    "groups": "texts",
    **SOURCES,
}
SHOWN: Mapping[str, str] = {
    "text": "text",
    "lines": "texts",
    "groups": "texts",
    "entry": "texts",
    "gears": "texts",
    **SOURCES,
}
RULE_SET: Mapping[str, str] = {
    "code": "text",
    "name": "text",
    "where": "text",
    "test_area": "text",
    **SOURCES,
}


def read_groups(place: Place, data: Data) -> dict[str, Group]:
    """Return the groups by code; what is wrong with them is noted at *place*."""
    place.known(data, ("group",))
    found: dict[str, Group] = {}
    for code, one in data.get("group", {}).items():
        at = place.at(code)
        if not at.table(one, GROUP, ("title", "rests_on", "list")):
            continue
        at.known(one["rests_on"], SCOPES)
        at.known(one.get("on_dead_gear", ()), SCOPES)
        lists = [made for each in one["list"] for made in _list(at, each)]
        if not lists or lists[-1].where:
            at.fault("the last list has no 'where', so that every card finds one")
        found[code] = Group(
            code=code,
            title=one["title"],
            rests_on=tuple(one["rests_on"]),
            on_dead_gear=tuple(one.get("on_dead_gear", ())),
            primary=one.get("primary", False),
            lists=tuple(lists),
        )
    return found


def _list(place: Place, one: Data) -> list[CardList]:
    at = place.at(str(one.get("of", "a list without 'of'")))
    if not at.table(one, LIST, ("of", "before")):
        return []
    at.known(one.get("where", ()), CARD_FACTS)
    return [
        CardList(
            of=one["of"],
            where=tuple(one.get("where", ())),
            before=_asked(at.at("before"), one["before"]),
            after=_asked(at.at("after"), one.get("after", ())),
        )
    ]


def _asked(at: Place, texts: Sequence[str]) -> tuple[Asked, ...]:
    found = []
    for text in texts:
        match = ASKED.fullmatch(text)
        if match is None:
            at.fault(f"'{text}' is not written as CODE or as CODE if FACT")
            continue
        if match[2] is not None:
            at.known([match[2]], CARD_FACTS)
        found.append(Asked(code=match[1], if_fact=match[2]))
    at.known([one.code for one in found], [one.code for one in found])
    return tuple(found)


def read_cautions(place: Place, data: Data) -> list[Caution]:
    """Return the cautions in their order."""
    place.known(data, ("caution",))
    must = ("key", "title", "text")
    return [
        Caution(
            key=one["key"],
            title=one["title"],
            text=one["text"],
            lines=tuple(one.get("lines", ())),
            groups=tuple(one.get("groups", ())),
            sources=place.at(one["key"]).sources(one),
        )
        for one in data.get("caution", ())
        if place.at(str(one.get("key"))).table(one, CAUTION, must)
    ]


def read_shown(place: Place, data: Data) -> list[Shown]:
    """Return the facts that are shown, in their order."""
    place.known(data, ("shown",))
    found = []
    for one in data.get("shown", ()):
        at = place.at(str(one.get("text")))
        if at.table(one, SHOWN, ("text",)):
            at.known(one.get("gears", ()), field_named("gear").choices)
            found.append(
                Shown(
                    text=one["text"],
                    lines=tuple(one.get("lines", ())),
                    groups=tuple(one.get("groups", ())),
                    entry=tuple(one.get("entry", ())),
                    gears=tuple(one.get("gears", ())),
                    sources=at.sources(one),
                )
            )
    return found


def read_rule_sets(place: Place, data: Data) -> list[RuleSet]:
    """Return the rule sets in their order."""
    place.known(data, ("governs", "rule_set"))
    must = ("code", "name", "where")
    return [
        RuleSet(
            code=one["code"],
            name=one["name"],
            where=one["where"],
            test_area=one.get("test_area", ""),
            sources=place.at(one["code"]).sources(one),
        )
        for one in data.get("rule_set", ())
        if place.at(str(one.get("code"))).table(one, RULE_SET, must)
    ]
