"""Sentences of the safety page."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.pdf import times
from webapp.pdf.numbering import count, runs

SHEET = "S"

Doc = Mapping[str, Any]


def standing_line(safety: Doc) -> str:
    """Return what there is, in numbers, the exceptions last."""
    exceptions = count(len(safety["exceptions"]), "exception")
    return ", ".join(
        (
            count(len(safety["crews"]), "shift"),
            count(len(safety["clearances"]), "clearance"),
            count(len(safety["cells"]), "cell") + " entered",
            count(safety["cards"]["cards"], "card"),
            exceptions if safety["exceptions"] else "no exception",
        )
    )


def cards_sentence(cards: Doc) -> str:
    """Return the one sentence of the cards; "all in time" only where it was found."""
    if not cards["cards"]:
        return "No reading was taken yet."
    people = count(cards["people"], "person", "people")
    said = (
        f"{count(cards['cards'], 'card')}: "
        f"{count(cards['before'], 'line')} before the first reading, "
        f"{cards['after']} after the last, by {people}"
    )
    if cards["in_time"]:
        return f"{said}; all in time."
    faults = []
    if cards["outside"]:
        were = "was" if cards["outside"] == 1 else "were"
        taken = count(cards["outside"], "reading")
        faults.append(f"{taken} {were} taken outside a standing scope")
    if cards["after_open"]:
        word = "card" if len(cards["after_open"]) == 1 else "cards"
        faults.append(
            f"lines after the last reading are open on {word} "
            f"{runs(cards['after_open'])}"
        )
    return f"{said}; not all in time: {'; '.join(faults)}."


def card_line(safety: Doc) -> str:
    """Return the one line of a card: on what it rested, and how many lines it has."""
    shifts = safety["shifts"]
    clearances = safety["clearances"]
    rested = [
        f"{'shift' if len(shifts) == 1 else 'shifts'} {runs(shifts)}" if shifts else "",
        f"{'clearance' if len(clearances) == 1 else 'clearances'} "
        f"{', '.join(clearances)}"
        if clearances
        else "",
        f"cell {safety['cell']}" if safety["cell"] else "",
    ]
    on = ", ".join(filter(None, rested)) or "on no scope"
    lines = f"{safety['before']} + {safety['after']} lines"
    return f"Safety: {on}; {lines}; sheet {SHEET}."


def crew_end(crew: Doc) -> str:
    """Return how a shift ended where nobody ended it; after its times."""
    return f", {crew['end']}" if crew["end"] else ""


def grounds_words(clearance: Doc) -> str:
    """Return how many grounds went on and off, as they were counted at the return."""
    if counted := clearance["counted"]:
        return f"Grounds counted: {counted[0]} on, {counted[1]} off."
    return f"Grounds: {clearance['grounds_on']} on, {clearance['grounds_off']} off."


def clearance_end(clearance: Doc, zone: str) -> str:
    """Return which parts were handed back, and who handed the whole to whom."""
    parts = [_part(one, zone) for one in clearance["parts"]]
    whole = clearance["returned"]
    parts.append(_part(whole, zone) if whole else "Not handed back.")
    return "\n".join(parts)


def _part(part: Doc, zone: str) -> str:
    cells = part["cells"]
    word = "cell" if len(cells) == 1 else "cells"
    what = f"Part, {word} {', '.join(cells)}:" if cells else "Whole:"
    to = f" to {part['to']}" if part["to"] else ""
    return f"{what} {times.short(part['at'], zone)} by {part['by']}{to}."


def exception_words(one: Doc, zone: str) -> str:
    """Return what an exception is, with its reason."""
    return SENTENCES[one["kind"]](one, zone)


def closed_words(sheets: Sequence[int]) -> str:
    """Return which cards a lapse closed; empty for none."""
    if not sheets:
        return ""
    return f" Closed: {'card' if len(sheets) == 1 else 'cards'} {runs(sheets)}."


def _because(one: Doc) -> str:
    return f" Reason: {_stop(one['reason'])}" if one["reason"] else ""


def _stop(words: str) -> str:
    """Return *words* with a full stop at their end."""
    return words if words.endswith((".", "!", "?")) else f"{words}."


def _not_applicable(one: Doc, zone: str) -> str:
    return f"Does not apply: {one['code']} {_stop(one['what'])}{_because(one)}"


def _override(one: Doc, zone: str) -> str:
    agreed = f" Agreed by {' and '.join(one['names'])}." if one["names"] else ""
    return f"Set aside: {one['code']} {_stop(one['what'])}{_because(one)}{agreed}"


def _lapse(one: Doc, zone: str) -> str:
    return f"Lapsed: {_stop(one['what'])}{_because(one)}"


def _stopped(one: Doc, zone: str) -> str:
    if one["until"] is None:
        return "Work stopped; not released."
    agreed = {True: ", who pressed agrees", False: ", who pressed does not agree"}
    return (
        f"Work stopped. Released {times.short(one['until'], zone)} by "
        f"{', '.join(one['names'])}{agreed.get(one['agreed'], '')}.{_because(one)}"
        f"{' Put right: ' + _stop(one['what']) if one['what'] else ''}"
    )


def _outside(one: Doc, zone: str) -> str:
    return f"Reading outside a standing scope: {_stop(one['what'])}{_because(one)}"


def _not_put_back(one: Doc, zone: str) -> str:
    return f"Not put back: {_stop(one['what'])}"


SENTENCES = {
    "not_applicable": _not_applicable,
    "override": _override,
    "lapse": _lapse,
    "stop": _stopped,
    "outside": _outside,
    "not_put_back": _not_put_back,
}
