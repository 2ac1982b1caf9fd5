"""Run the benches: `python -m tests.bench.run [NAME ...]`.

Prints a table and writes test-results/bench.json. A bench is a function without
arguments that returns `Measured` lines; it is listed here by name.
"""

import json
import platform
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict

from tests.bench import (
    arriving,
    batch,
    bulk,
    cold_card,
    demo,
    editor,
    judging,
    lineup_table,
    lists,
    planning,
    reader,
    rejudge,
    shape,
    storage,
)
from tests.bench.measure import ROOT, Measured

BENCHES: Mapping[str, Callable[[], list[Measured]]] = {
    "judge": judging.run,
    "batch": batch.run,
    "bulk": bulk.run,
    "mixed": bulk.run_mixed,
    "js": reader.run,
    "demo": demo.run,
    "editor": editor.run,
    "rejudge": rejudge.run,
    "lists": lists.run,
    "planning": planning.run,
    "lineup": lineup_table.run,
    "storage": storage.run,
    "arriving": arriving.run,
    "shape": shape.run,
    "card": cold_card.run,
}
RESULTS = ROOT / "test-results" / "bench.json"


def main(names: Sequence[str]) -> int:
    """Run the benches of these names, by default all."""
    unknown = [name for name in names if name not in BENCHES]
    if unknown:
        print(f"no bench {', '.join(unknown)}; there are {', '.join(BENCHES)}")
        return 2
    print_line(
        "bench", "what", "seconds", "peak MiB", "value", "ratio", "against", "wanted"
    )
    found: list[Measured] = []
    for name in names or BENCHES:
        for line in BENCHES[name]():
            found.append(line)
            print_measured(line)
    RESULTS.parent.mkdir(exist_ok=True)
    RESULTS.write_text(json.dumps(report(found), indent=1) + "\n", "utf-8")
    print(f"\n{RESULTS.relative_to(ROOT)} written")
    return 0


def report(found: Sequence[Measured]) -> dict[str, object]:
    """Return what is written: the machine's kind, and each line."""
    return {
        "python": platform.python_version(),
        "system": platform.system(),
        "machine": platform.machine(),
        "measured": [asdict(line) for line in found],
    }


def print_measured(line: Measured) -> None:
    """Print one line of the table."""
    print_line(
        line.bench,
        line.what,
        "" if line.seconds is None else f"{line.seconds:.3g}",
        "" if line.peak_mib is None else f"{line.peak_mib:.0f}",
        "" if line.value is None else f"{line.value:,.6g} {line.unit}".strip(),
        "" if line.ratio is None else f"{line.ratio:.2f}",
        line.against,
        line.wanted,
    )


def print_line(*cells: str) -> None:
    """Print cells in the table's columns."""
    widths = (10, 28, -10, -9, -12, -7, 20, 1)
    said = (
        cell.ljust(width) if width > 0 else cell.rjust(-width)
        for cell, width in zip(cells, widths, strict=True)
    )
    print(" ".join(said), flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
