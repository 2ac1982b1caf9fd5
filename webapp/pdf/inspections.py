"""A hold, witness or review point of a card in a sentence."""

from collections.abc import Mapping
from typing import Any

from webapp.pdf import times

Doc = Mapping[str, Any]


def inspection_words(point: Doc, zone: str) -> str:
    """Return whom the point waits for, the notices given and what came of it."""
    parts = [f"{str(point['kind_text']).capitalize()} for {point['party']}"]
    parts.append(f"({point['reason']})")
    for notice in point["notices"]:
        given, work = (
            times.at(notice["given_at"], zone),
            times.at(notice["work_at"], zone),
        )
        parts.append(f"notice {given} of work on {work}, {notice['how']};")
    return f"{' '.join(parts).rstrip(';')}: {_answer_words(point, zone)}."


def _answer_words(point: Doc, zone: str) -> str:
    answer = point["answer"]
    if answer is None:
        return "not answered"
    said = f"{answer['answer_text']}, {times.at(answer['at'], zone)}"
    said += f" by {answer['by']}" if answer["own"] else f", recorded by {answer['by']}"
    return f"{said} ({answer['remark']})" if answer["remark"] else said
