"""Run every check: `python -m tests.run all`, or `lint` for those of the text."""

import os
import sys
from collections.abc import Sequence

from tests.run import stages, tools


def main(which: str) -> int:
    """Return 0 when every stage passed and, under CI, nothing was missing."""
    if which == "lint":
        return report(stages.run(stages.linting()), [])
    tools.install(tools.missing())
    absent = tools.missing()
    if absent and strict():
        say_missing(absent)
        print("CI: nothing may be missing, so nothing was run.")
        return 1
    wanted = [*stages.linting(), *stages.testing([tool.name for tool in absent])]
    return report(stages.run(wanted), absent)


def strict() -> bool:
    """Whether a missing tool fails the run."""
    return os.environ.get("CI", "").lower() in ("1", "true", "yes")


def report(done: Sequence[stages.Done], absent: Sequence[tools.Tool]) -> int:
    """Print the table of stages, and last what did not run and why."""
    print("\n  stage                        seconds")
    for stage in done:
        mark = "failed" if stage.status else ""
        print(f"  {stage.name:<28} {stage.seconds:7.1f}  {mark}")
    print(f"  {'all':<28} {sum(stage.seconds for stage in done):7.1f}")
    say_missing(absent)
    failed = [stage for stage in done if stage.status]
    if failed:
        print(f"\nStopped: {failed[0].name} failed (status {failed[0].status}).")
        return 1
    print("\nEvery stage passed." + (" Not all was run: see above." if absent else ""))
    return 0


def say_missing(absent: Sequence[tools.Tool]) -> None:
    """Say what does not run without which package."""
    for tool in absent:
        print(
            f"\nNOT RUN: {tool.what}. {tool.name} is missing; "
            f"install {' '.join(tool.packages)}."
        )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1] if len(sys.argv) > 1 else "all"))
