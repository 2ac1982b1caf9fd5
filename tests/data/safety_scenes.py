"""Write safety_scenes.json: what both readers of safety answer, scene by scene.

Run `python -m tests.data.safety_scenes`. What matters of each answer was worked out by
hand and stands in the tables `tests/data/scenes_*.py`; it refuses to write where core
and hand disagree. The whole answer is written beside it, for the reader of the tablet.
"""

import json
import sys
from pathlib import Path
from typing import Any

from tests.data.safety_book import BOOK
from tests.data.safety_scene import Scene, answer, in_short, safety_of
from tests.data.scenes_closing import SCENES as CLOSING
from tests.data.scenes_lapses import SCENES as LAPSES
from tests.data.scenes_working import SCENES as WORKING

PLACE = Path(__file__).with_name("safety_scenes.json")
SCENES: list[Scene] = [*WORKING, *LAPSES, *CLOSING]


def written() -> str:
    """Return the text of safety_scenes.json; raises ValueError where hand differs."""
    whole = {"book": BOOK, "scenes": [scene_json(scene) for scene in SCENES]}
    return json.dumps(whole, indent=None, separators=(",", ":"), sort_keys=True) + "\n"


def scene_json(scene: Scene) -> dict[str, Any]:
    """Return a scene with what the core answers."""
    given = scene.day.scene()
    safety = safety_of(given)
    answers = [answer(safety, ask) for ask, _ in scene.asks]
    for (ask, hand), answered in zip(scene.asks, answers, strict=True):
        short = in_short(ask, answered, hand)
        if short != hand:
            raise ValueError(f"{scene.name}, {ask}:\n  hand {hand}\n  core {short}")
    asks = [ask for ask, _ in scene.asks]
    checks = []
    for act, refusals in scene.checks:
        faults = safety.check(act, act["at"])
        if [one["code"] for one in faults] != refusals:
            raise ValueError(
                f"{scene.name}, {act}:\n  hand {refusals}\n  core {faults}"
            )
        checks.append({"act": act, "faults": faults})
    head = {"name": scene.name, "why": scene.why, **given}
    return {**head, "asks": asks, "answers": answers, "checks": checks}


if __name__ == "__main__":
    PLACE.write_text(written(), encoding="utf-8")
    sys.stdout.write(f"{len(SCENES)} scenes\n")
