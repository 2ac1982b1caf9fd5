"""The core, held to what was worked out by hand and to the file that the tablet has."""

from pathlib import Path
from timeit import repeat

import pytest

from tests.data import safety_scenes
from tests.data.safety_day import Day, clock
from tests.data.safety_scene import Scene, safety_of, wrong_in


@pytest.mark.parametrize("scene", safety_scenes.SCENES, ids=lambda scene: scene.name)
def test_a_scene(scene: Scene) -> None:
    assert wrong_in(scene) == []


def test_the_file_of_the_tablet_is_what_the_core_answers() -> None:
    written = Path(safety_scenes.PLACE).read_text("utf-8")
    assert written == safety_scenes.written(), "run python -m tests.data.safety_scenes"


def test_a_card_is_quick_with_the_acts_of_a_day() -> None:
    """400 acts: meant to take 5 ms for a card; 200 readings 300 ms for the round."""
    day = Day().morning()
    while len(day.acts) < 400:
        day.when(f"{8 + len(day.acts) // 60}:{len(day.acts) % 60:02d}")
        day.lines("test", "ir1", "CR2a T2 T3 T5")
        for _ in range(8):
            day.read("ir1")
        day.lines("after", "ir1", "P01a G14a CR6").dead("cell1")
    given = day.scene()
    assert len(given["readings"]["ir1"]) > 200

    def card() -> None:
        safety_of(given).card("ir1", "marit", clock("23:00"))

    # The best of many, and ten times that: a machine does other things too.
    assert min(repeat(card, number=1, repeat=10)) < 0.05
    assert min(repeat(lambda: safety_of(given).outside("ir1"), number=1, repeat=3)) < 3
