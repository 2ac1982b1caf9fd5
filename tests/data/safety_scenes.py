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
from tests.data.safety_scene import Scene, answer, safety_of, wrong_in
from tests.data.scenes_between import SCENES as BETWEEN
from tests.data.scenes_closing import SCENES as CLOSING
from tests.data.scenes_edges import SCENES as EDGES
from tests.data.scenes_lapses import SCENES as LAPSES
from tests.data.scenes_working import SCENES as WORKING

PLACE = Path(__file__).with_name("safety_scenes.json")
SCENES: list[Scene] = [*WORKING, *LAPSES, *CLOSING, *EDGES.values(), *BETWEEN]


def written() -> str:
    """Return the text of safety_scenes.json; raises ValueError where hand differs."""
    whole = {"book": BOOK, "scenes": [scene_json(scene) for scene in SCENES]}
    return json.dumps(whole, indent=None, separators=(",", ":"), sort_keys=True) + "\n"


def scene_json(scene: Scene) -> dict[str, Any]:
    """Return a scene with its answers; raises ValueError where the hand differs."""
    if wrong := wrong_in(scene):
        raise ValueError(f"{scene.name}: {wrong}")
    given = scene.day.scene()
    safety = safety_of(given)
    asks = [ask for ask, _ in scene.asks]
    answers: list[Any] = [answer(safety, ask) for ask in asks]
    for act, _ in scene.checks:
        asks.append({"check": act, "at": act["at"]})
        answers.append(safety.check(act, act["at"]))
    head = {"name": scene.name, "why": scene.why, **given}
    return {**head, "asks": asks, "answers": answers}


if __name__ == "__main__":
    PLACE.write_text(written(), encoding="utf-8")
    sys.stdout.write(f"{len(SCENES)} scenes\n")
