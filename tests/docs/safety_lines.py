"""Write the tables of docs/safety-lines.md that the files of the lines say.

python -m tests.docs.safety_lines
"""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from models.criteria.safety.line import Asked, SafetyLine
from models.criteria.safety.loader import books
from models.criteria.safety.words import CARD_FACTS

PAGE = Path(__file__).resolve().parents[2] / "docs" / "safety-lines.md"
FIRST = "## The lines"
TITLES = {
    "crew": "Crew",
    "isolation": "Isolation",
    "point": "Point of work",
    "test": "Test",
    "after": "After",
    "return": "Return",
}
BOOKS = books()


def page() -> str:
    """Return the page with its tables."""
    before = PAGE.read_text("utf-8").partition(FIRST)[0]
    return before + "\n".join(_parts()) + "\n"


def _parts() -> Iterator[str]:
    yield f"{FIRST} ({len(BOOKS.lines)})"
    for scope, title in TITLES.items():
        lines = [line for line in BOOKS.lines.values() if line.scope == scope]
        yield from ("", f"### {title} ({len(lines)})", "")
        yield from _table(
            "code | wording | asked when | noted with it | lapses when | source",
            map(_line, lines),
        )
    yield from ("", "## What a card asks, in order of work", "")
    yield "A star: only where that applies, which the next table says."
    yield ""
    yield from _table("group | for | before the first reading | after", _lists())
    yield from ("", "## When a starred line is asked", "")
    yield from _table("line | asked unless it is known not to be so", _stars())
    yield from ("", "## Cautions, shown where the hand is", "")
    yield from _table("caution | text | at lines | on cards | source", _cautions())
    yield from ("", "## Shown, not asked", "")
    yield from _table("fact | at lines | on cards | source", _shown())
    yield from ("", "## Rule sets", "")
    yield from _table("rules | where | test areas | source", _rules())


def _table(head: str, rows: Iterable[Sequence[str]]) -> Iterator[str]:
    yield f"| {head} |"
    yield "|" + "---|" * (head.count(" | ") + 1)
    for row in rows:
        yield f"| {' | '.join(cell or '–' for cell in row)} |"


def _line(line: SafetyLine) -> Sequence[str]:
    each = f"each {', each '.join(line.each)}: " if line.each else ""
    never = " **Never waived.**" if line.never_waived else ""
    return (
        line.code,
        line.text + never,
        each + line.asked,
        ", ".join(BOOKS.fields[name].label for name in line.noted),
        "; ".join(BOOKS.changes[word] for word in line.lapses),
        line.sources.said,
    )


def _lists() -> Iterator[Sequence[str]]:
    for group in BOOKS.groups.values():
        for one in group.lists:
            yield group.title, one.of, _asked(one.before), _asked(one.after)


def _asked(codes: Sequence[Asked]) -> str:
    return " · ".join(one.code + (r"\*" if one.if_fact else "") for one in codes)


def _stars() -> Iterator[Sequence[str]]:
    found: dict[str, set[str]] = {}
    for group in BOOKS.groups.values():
        for one in group.lists:
            for asked in (*one.before, *one.after):
                if asked.if_fact is not None:
                    found.setdefault(asked.code, set()).add(CARD_FACTS[asked.if_fact])
    yield from ((code, "; ".join(sorted(facts))) for code, facts in found.items())


def _titles(groups: Sequence[str]) -> str:
    return "; ".join(BOOKS.groups[group].title for group in groups)


def _cautions() -> Iterator[Sequence[str]]:
    for one in BOOKS.cautions.values():
        at = ", ".join(one.lines)
        yield one.title, one.text, at, _titles(one.groups), one.sources.said


def _shown() -> Iterator[Sequence[str]]:
    for one in BOOKS.shown:
        groups = _titles([*one.groups, *one.entry])
        yield one.text, ", ".join(one.lines), groups, one.sources.said


def _rules() -> Iterator[Sequence[str]]:
    for one in BOOKS.rule_sets.values():
        yield one.name, one.where, one.test_area, one.sources.said


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
