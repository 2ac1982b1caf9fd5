"""Why a round conforms or does not, counted out of its document."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from webapp.pdf.numbering import count

LET_STAND = ("use_as_is", "accept_with_limits")  # decisions that are no rejection
DONE = ("signed", "withdrawn")

Doc = Mapping[str, Any]


def current_readings(card: Doc) -> Iterator[Doc]:
    """Yield the readings of *card* that hold."""
    return (r for r in card["readings"] if not r["superseded_by"])


def verdict_counts(card: Doc) -> Counter[str]:
    """Return how many readings that hold have each verdict."""
    return Counter(r["judgement"]["verdict"] for r in current_readings(card))


def stands(reading: Doc) -> bool:
    """Return whether a reading leaves the round conforming.

    Within does; marginal does with a disposition that lets it stand.
    """
    verdict, disposition = reading["judgement"]["verdict"], reading["disposition"]
    if verdict == "marginal":
        return bool(disposition) and disposition["decision"] in LET_STAND
    return bool(verdict == "within")


def reasons(document: Doc) -> list[str]:
    """Return what stands against conformity, or what speaks for it, a line each."""
    against = list(_against(document))
    return against if not document["conforms"] else list(_for(document))


def _against(document: Doc) -> Iterator[str]:
    fallen = Counter(
        reading["judgement"]["verdict"]
        for card in document["cards"]
        for reading in current_readings(card)
        if not stands(reading)
    )
    if fallen["outside"]:
        yield f"{count(fallen['outside'], 'reading is', 'readings are')} outside."
    if fallen["marginal"]:
        yield (
            f"{count(fallen['marginal'], 'reading is', 'readings are')} marginal, "
            "without a disposition that lets it stand."
        )
    if fallen["unjudged"]:
        said = count(fallen["unjudged"], "reading is", "readings are")
        yield f"{said} unjudged: unknown is never a pass."
    stopping = sum(
        d["severity"] == "stops_turnover" and d["state"] == "open"
        for d in document["deficiencies"]
    )
    if stopping:
        said = count(stopping, "open deficiency stops", "open deficiencies stop")
        yield f"{said} turnover."
    unsigned = sum(card["state"] not in DONE for card in document["cards"])
    if unsigned:
        yield f"{count(unsigned, 'card is', 'cards are')} not signed as performed."


def _for(document: Doc) -> Iterator[str]:
    summary = document["summary"]
    yield f"Within: {summary['within']} of {count(summary['readings'], 'reading')}."
    if summary["marginal"]:
        said = count(summary["marginal"], "reading is", "readings are")
        yield f"{said} marginal, with a disposition that lets it stand."
    yield "No reading is outside or unjudged."
    yield "No open deficiency stops turnover."
    withdrawn = summary.get("cards_withdrawn", 0)
    kept = " or withdrawn with a reason" if withdrawn else ""
    yield f"Every card is signed as performed{kept}."
