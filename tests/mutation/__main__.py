"""Run it: `python -m tests.mutation [MODULE ...]`, modules as models.judging.bounds.

mutmut makes a change at a time (its settings are in pyproject.toml) and runs the
tests of the core on each. Prints a table by file and writes
test-results/mutation.json with what survived. A run that was stopped goes on where
it stopped.
"""

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RESULTS = ROOT / "test-results"
MADE = ROOT / "mutants" / "models" / "judging"
MUTMUT = (sys.executable, "-m", "mutmut", "run")

# What mutmut notes of a change, beside 1 and 3: a test failed.
STATES = {
    None: "not run",
    0: "survived",
    5: "no test",
    33: "no test",
    24: "too long",
    36: "too long",
    152: "too long",
    255: "too long",
    -24: "too long",
}
COLUMNS = ("killed", "survived", "no test", "too long", "not run")


def main(modules: Sequence[str]) -> int:
    """Run mutmut, and report; 0 even if something survived: it is to be read."""
    RESULTS.mkdir(exist_ok=True)
    log = RESULTS / "mutation.log"
    print(f"mutmut is at work; what it says goes to {log.relative_to(ROOT)}")
    patterns = [f"{module}.*" for module in modules]
    with log.open("wb") as out:
        done = subprocess.run(
            [*MUTMUT, *patterns],
            cwd=ROOT,
            check=False,
            stdout=out,
            stderr=subprocess.STDOUT,
        )
    if not MADE.exists():
        print(f"mutmut made nothing (status {done.returncode}): see the log")
        return 1
    report(states())
    return 0


def states() -> dict[str, dict[str, str]]:
    """Return by file what became of each change that was made to it."""
    found = {}
    for meta in sorted(MADE.rglob("*.py.meta")):
        codes = json.loads(meta.read_text("utf-8"))["exit_code_by_key"]
        if codes:
            name = str(meta.relative_to(MADE)).removesuffix(".meta")
            found[name] = {key: STATES.get(c, "killed") for key, c in codes.items()}
    return found


def report(found: Mapping[str, Mapping[str, str]]) -> None:
    """Print the table, and write it with the names of what was not killed."""
    total: Counter[str] = Counter()
    rows = {}
    print(f"{'file':<32}" + "".join(f"{column:>10}" for column in (*COLUMNS, "score")))
    for name, changes in found.items():
        counts = Counter(changes.values())
        total += counts
        rows[name] = {
            **counts,
            "score": score(counts),
            "survivors": sorted(k for k, s in changes.items() if s == "survived"),
        }
        print_row(name, counts)
    print_row("all", total)
    written = {"all": {**total, "score": score(total)}, "files": rows}
    target = RESULTS / "mutation.json"
    target.write_text(json.dumps(written, indent=1) + "\n", "utf-8")
    print(f"\n{target.relative_to(ROOT)} written")


def score(counts: Mapping[str, int]) -> float | None:
    """Return the share of what was run that some test saw; None: nothing was run."""
    run = sum(counts.values()) - counts.get("not run", 0)
    seen = counts.get("killed", 0) + counts.get("too long", 0)
    return round(seen / run, 4) if run else None


def print_row(name: str, counts: Mapping[str, int]) -> None:
    """Print one line of the table."""
    share = score(counts)
    said = "–" if share is None else f"{100 * share:.1f} %"
    cells = [str(counts.get(column, 0)) for column in COLUMNS]
    print(f"{name:<32}" + "".join(f"{cell:>10}" for cell in (*cells, said)))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
