"""Write docs/procedures.md: every procedure, what it asks, and its sources.

python -m tests.docs.procedures_page
"""

import random
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from models.criteria import load
from models.fields import field
from models.judging.quantities import said_unit
from models.procedures import PROCEDURES, Subject, compile_rule
from models.procedures.procedure import Procedure
from models.procedures.registry import declarations
from tests.data.made_up_rules import SUBJECTS

PAGE = Path(__file__).resolve().parents[2] / "docs" / "procedures.md"
FIRST = "## The procedures"
SEEDS = range(60)  # nameplates that are made up for each procedure
OF_THE_PLACE = ("maker", "project")  # given there, and no source of ours
PROVENANCE = {
    "published": "published",
    "confirmed": "published, confirmed",
    "corrected": "published, corrected",
    "memory": "**from memory**",
    "computed": "computed",
    "practice": "common practice",
}


def page() -> str:
    """Return the page with its tables."""
    before = PAGE.read_text("utf-8").partition(FIRST)[0]
    return before + "\n".join(_parts()) + "\n"


def _parts() -> Iterator[str]:
    declared = len(declarations())
    computed = len(PROCEDURES) - declared
    yield f"{FIRST} ({len(PROCEDURES)}: {declared} declared, {computed} computed)"
    yield ""
    yield "| procedure | on | entered; asked | rests on | sources of what decides |"
    yield "|---|---|---|---|---|"
    for procedure in PROCEDURES.values():
        yield f"| {' | '.join(cell or '–' for cell in _cells(procedure))} |"


def _cells(procedure: Procedure) -> Sequence[str]:
    how = "declared" if procedure.name in declarations() else "computed"
    return (
        f"**{procedure.title}** `{procedure.name}`, {how}",
        f"{_words(procedure.apparatus)}; {_words(procedure.gears)}",
        "; ".join(filter(None, (_entered(procedure), _asked(procedure)))),
        ", ".join(_line(field(name).label) for name in procedure.rests_on),
        "<br>".join(_sources(procedure.name)),
    )


def _words(names: Iterable[str]) -> str:
    return ", ".join(name.replace("_", " ") for name in names)


def _entered(procedure: Procedure) -> str:
    units = [said_unit(unit) or "a number" for unit in procedure.units]
    return ", ".join([*units, *_outcomes(procedure)])


def _outcomes(procedure: Procedure) -> list[str]:
    return [outcome.replace("_", " ") for outcome in procedure.outcomes]


def _asked(procedure: Procedure) -> str:
    return ", ".join(_line(str(one["label"])) for one in procedure.asks)


def _line(label: str) -> str:
    return label[:1].lower() + label[1:] if label[1:2].islower() else label


def _sources(name: str) -> list[str]:
    """Return each source that decides for some made-up nameplate, and once."""
    found: dict[str, None] = {}
    for seed in SEEDS:
        subject = Subject(**SUBJECTS[name](random.Random(seed)))
        for cite in compile_rule(name, subject, load()).cite:
            if not cite.get("beside") and cite["provenance"] not in OF_THE_PLACE:
                found[_source(cite)] = None
    return sorted(found) or ["what the maker or the project gives"]


def _source(cite: Mapping[str, Any]) -> str:
    place = ", ".join(filter(None, (cite["document"], cite["edition"], cite["table"])))
    return f"{place}: {PROVENANCE[cite['provenance']]}"


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
