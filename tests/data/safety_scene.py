"""A scene of safety: what was done, what is asked, the answer worked out by hand."""

from dataclasses import dataclass, field
from typing import Any

from models.record.safety import Safety
from tests.data.safety_book import BOOK, MARIT
from tests.data.safety_day import Day, clock

Json = dict[str, Any]


@dataclass
class Scene:
    """What was done, and by question what was worked out by hand."""

    name: str
    why: str
    day: Day
    asks: list[tuple[Json, Json]] = field(default_factory=list)
    checks: list[tuple[Json, list[str]]] = field(default_factory=list)

    def card(
        self,
        at: str,
        card: str,
        *reasons: str,
        person: str = "marit",
        choice: str | None = None,
        **more: Any,
    ) -> "Scene":
        """Ask for a card: it is closed for these reasons, or open without any."""
        ask = {"card": card, "person": person, "at": clock(at), "choice": choice}
        hand = {"open": not reasons, "reasons": list(reasons), **more}
        self.asks.append((ask, hand))
        return self

    def act(
        self, at: str, act: str, *refusals: str, by: Json = MARIT, **members: Any
    ) -> "Scene":
        """Ask whether an act may be taken: the codes of its refusals, or none."""
        once = Day().says(by).when(at).act(act, **members).acts[0]
        self.checks.append(({**once, "id": "asked"}, list(refusals)))
        return self

    def line(
        self,
        at: str,
        place: str,
        code: str,
        *refusals: str,
        by: Json = MARIT,
        item: str | None = None,
        reason: str | None = None,
        **noted: Any,
    ) -> "Scene":
        """Ask whether a line may be given; *place* is its scope and what it is of.

        With a reason (which may be empty) it is said not to apply.
        """
        scope, of = place.split()
        return self.act(
            at,
            "line",
            *refusals,
            by=by,
            scope=scope,
            of=of,
            code=code,
            item=item,
            state="confirmed" if reason is None else "not_applicable",
            reason=reason,
            noted=noted,
        )

    def site(self, at: str, **states: Any) -> "Scene":
        """Ask for the site: the states of crews, clearances and cells by their id."""
        self.asks.append(({"site": True, "at": clock(at)}, states))
        return self


def safety_of(scene: Json) -> Safety:
    """Return the core over the acts of a scene."""
    return Safety(
        BOOK,
        scene["acts"],
        scene["readings"],
        scene["signed"],
        scene["cells"],
        scene["found_good"],
    )


def answer(safety: Safety, ask: Json) -> Json:
    """Return what the core answers to a question of a scene."""
    if "site" in ask:
        return safety.site(ask["at"])
    return safety.card(ask["card"], ask["person"], ask["at"], ask["choice"])


def in_short(ask: Json, answered: Json, hand: Json) -> Json:
    """Return of an answer what was worked out by hand."""
    if "site" in ask:
        states = {one["of"]: one["state"] for one in answered["crews"]}
        states |= {one["of"]: one["state"] for one in answered["isolations"]}
        states |= {cell: one["state"] for cell, one in answered["points"].items()}
        states["stop"] = answered["stop"] is not None
        return {name: states[name] for name in hand}
    short: Json = {
        "open": answered["open"],
        "reasons": [one["code"] for one in answered["reasons"]],
    }
    for scope in ("crew", "isolation", "point", "test", "after"):
        lines = answered[scope]["lines"]
        short[scope] = answered[scope]["state"]
        short[f"{scope}_asked"] = " ".join(
            one["code"] for one in lines if one["state"] in ("open", "lapsed")
        )
        short[f"{scope}_cause"] = answered[scope]["cause"]
    short["facts"] = answered["reasons"][0]["facts"] if answered["reasons"] else {}
    return {name: short[name] for name in hand}


def wrong_in(scene: Scene) -> list[Json]:
    """Return the questions of a scene where the core differs from the hand."""
    safety = safety_of(scene.day.scene())
    wrong = []
    for ask, hand in scene.asks:
        short = in_short(ask, answer(safety, ask), hand)
        if short != hand:
            wrong.append({"ask": ask, "hand": hand, "core": short})
    for act, refusals in scene.checks:
        codes = [one["code"] for one in safety.check(act, act["at"])]
        if codes != refusals:
            wrong.append({"ask": act, "hand": refusals, "core": codes})
    return wrong
