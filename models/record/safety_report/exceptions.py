"""What is not as usual, each as a row, in order of time."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from models.record.safety import Safety
from models.record.safety_report.card_rows import card_lines
from models.record.safety_report.noted import fields_words
from models.record.safety_report.told import (
    Json,
    ReportCard,
    Told,
    about,
    person_key,
    said_by,
    who,
)
from models.record.shapes.safety_report import ExceptionKind, SafetyException

JUST_BEFORE = timedelta(milliseconds=1)


def exceptions(
    told: Told, safety: Safety, site: Json, outside: Mapping[str, Sequence[Json]]
) -> list[SafetyException]:
    """Return all exceptions; *site* is what stands by all acts, *outside* as found."""
    found = [
        *_not_applicable(told),
        *_overrides(told),
        *_lapses(told, safety),
        *_stops(told),
        *_outside(told, outside),
        *_not_put_back(told, site),
    ]
    return sorted(found, key=lambda one: datetime.fromisoformat(one["at"]))


def _row(kind: ExceptionKind, act: Json, where: str, **rest: Any) -> SafetyException:
    row: SafetyException = {
        "card": "",
        "reading": "",
        "kind": kind,
        "at": act["at"],
        "until": None,
        "where": where,
        "code": act.get("code") or "",
        "what": "",
        "reason": act.get("reason") or "",
        "by": said_by(act),
        "names": [],
        "agreed": None,
        "sheets": [],
    }
    return row | rest  # type: ignore[return-value]


def _card(told: Told, act: Json) -> str:
    """Return the card that an act is about; empty for anything else."""
    return about(act) if about(act) in told.card_by_id else ""


def _wording(told: Told, code: str) -> str:
    return str(told.book["lines"].get(code, {}).get("text", ""))


def _not_applicable(told: Told) -> Iterator[SafetyException]:
    for act in told.of_kind("line"):
        if act["state"] == "not_applicable":
            words = _wording(told, act["code"])
            yield _row(
                "not_applicable",
                act,
                told.where(about(act)),
                what=words,
                card=_card(told, act),
            )


def _overrides(told: Told) -> Iterator[SafetyException]:
    for act in told.of_kind("override"):
        yield _row(
            "override",
            act,
            told.where(about(act)),
            what=_wording(told, act["code"]),
            card=_card(told, act),
            names=list(act.get("names") or ()),
        )


def _lapses(told: Told, safety: Safety) -> Iterator[SafetyException]:
    """Yield what changed on a clearance, and what closed a card in the midst of it."""
    for act in told.of_kind("change", "sign_off", "end_crew"):
        closed = _closed(told, safety, act["at"])
        on_clearance = act["act"] == "change" and act["of"] in told.isolations
        if closed or on_clearance:
            yield _row(
                "lapse",
                act,
                told.where(about(act)),
                what=_changed(told, act),
                card=_card(told, act),
                reason=act.get("cause") or "",
                sheets=closed,
            )


def _changed(told: Told, act: Json) -> str:
    if act["act"] == "sign_off":
        return f"{who(act)['name']} left the crew"
    if act["act"] == "end_crew":
        return "the shift ended"
    return str(told.book["changes"].get(act["what"], act["what"]))


def _closed(told: Told, safety: Safety, at: str) -> list[int]:
    """Return the sheets of cards that were open up to a moment, and then no more.

    A card on which everything is done that follows its readings was not closed in
    the midst of it. The moments asked for go forward: to go back costs a new fold.
    """
    moment = datetime.fromisoformat(at)
    before = (moment - JUST_BEFORE).isoformat()
    worked = [
        (card, person)
        for card in told.cards
        if (person := _working(told, card, moment))
    ]
    opened = [
        (card, person)
        for card, person in worked
        if _open_and_not_done(safety.card(card.id, person, before))
    ]
    return [
        card.sheet
        for card, person in opened
        if not safety.card(card.id, person, at)["open"]
    ]


def _working(told: Told, card: ReportCard, moment: datetime) -> str | None:
    """Return the key of who last gave a line of a card's test before a moment."""
    given = [
        act
        for act in card_lines(told, card, "test")
        if datetime.fromisoformat(act["at"]) < moment
    ]
    return person_key(who(given[-1])) if given else None


def _open_and_not_done(standing: Json) -> bool:
    return bool(standing["open"]) and standing["after"]["state"] != "stands"


def _stops(told: Told) -> Iterator[SafetyException]:
    releases = {act["stop"]: act for act in told.of_kind("release")}
    for act in told.of_kind("stop"):
        release = releases.get(act["stop"])
        if release is None:
            yield _row("stop", act, "the site")
            continue
        yield _row(
            "stop",
            act,
            "the site",
            until=release["at"],
            what=release["put_right"],
            reason=release["reason"],
            names=[said_by(release)],
            agreed=release["agrees"],
        )


def _outside(
    told: Told, outside: Mapping[str, Sequence[Json]]
) -> Iterator[SafetyException]:
    for card_id, found in outside.items():
        card = told.card_by_id[card_id]
        for one in found:
            reading = card.readings[one["reading"]]
            act = {"at": reading["at"], "by": {"name": reading["name"]}}
            words = f"{reading['point']}: {'; '.join(one['words'])}"
            yield _row(
                "outside",
                act,
                told.where(card_id),
                what=words,
                card=card_id,
                reading=reading.get("id", ""),
            )


def _not_put_back(told: Told, site: Json) -> Iterator[SafetyException]:
    for isolation in site["isolations"]:
        if isolation["of"] not in told.isolations:
            continue
        for item in isolation["put_back"]:
            if item["back"] is None and not item["fields"].get("gone"):
                act = {"at": item["at"], "by": {"name": item["by"]}}
                words = fields_words(told, "put_back", item["fields"])
                where = told.where(isolation["of"])
                yield _row("not_put_back", act, where, what=words or item["item"])
