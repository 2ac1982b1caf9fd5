"""The core, held to what was worked out by hand and to the file that the tablet has."""

from pathlib import Path

import pytest

from tests.data import safety_scenes
from tests.data.safety_scene import Scene, answer, in_short, safety_of


@pytest.mark.parametrize("scene", safety_scenes.SCENES, ids=lambda scene: scene.name)
def test_a_scene(scene: Scene) -> None:
    safety = safety_of(scene.day.scene())
    for ask, hand in scene.asks:
        assert in_short(ask, answer(safety, ask), hand) == hand, ask
    for act, refusals in scene.checks:
        faults = safety.check(act, act["at"])
        assert [one["code"] for one in faults] == refusals, act


def test_the_file_of_the_tablet_is_what_the_core_answers() -> None:
    written = Path(safety_scenes.PLACE).read_text("utf-8")
    assert written == safety_scenes.written(), "run python -m tests.data.safety_scenes"
