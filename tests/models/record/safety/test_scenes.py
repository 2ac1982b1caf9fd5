"""The core, held to what was worked out by hand and to the file that the tablet has."""

from pathlib import Path

import pytest

from tests.data import safety_scenes
from tests.data.safety_scene import Scene, wrong_in


@pytest.mark.parametrize("scene", safety_scenes.SCENES, ids=lambda scene: scene.name)
def test_a_scene(scene: Scene) -> None:
    assert wrong_in(scene) == []


def test_the_file_of_the_tablet_is_what_the_core_answers() -> None:
    written = Path(safety_scenes.PLACE).read_text("utf-8")
    assert written == safety_scenes.written(), "run python -m tests.data.safety_scenes"
