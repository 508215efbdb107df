from __future__ import annotations

import pytest

from overhaul.bench.flow import stages
from tests.conftest import recipe_of
from tests.output.sheets.made import HARD, PAGES, SMALL, of_file


def test_steps_of_one_kind_stand_together() -> None:
    assert [(stage.number, stage.what, stage.figures, stage.lines) for stage in stages(recipe_of(SMALL))] == [
        (1, "make the brine", (), "line 11"),
        (2, "chill", ("3 °C (brine)",), "line 11"),
        (3, "cure", ("3 °C (cold room)", "9 days"), "lines 11 to 12"),
        (4, "rinse, then soak", ("2 hours",), "line 13"),
        (5, "cook", ("3 hours", "92 °C (inside)"), "line 13"),
        (6, "rest", ("15 minutes",), "line 13"),
        (7, "cool", ("57 to 21 °C (inside)", "2 hours", "5 °C (inside)"), "line 14"),
        (8, "keep", ("4 days", "4 °C (cold room)"), "line 14"),
    ]


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_no_time_and_no_temperature_of_the_method_is_left_out(path: object) -> None:
    for recipe, _ in of_file(path):  # type: ignore[arg-type]
        told = " | ".join(words for stage in stages(recipe) for words in stage.figures)
        for step in recipe.steps:
            for one in (*step.times, *step.temperatures):
                assert " ".join(recipe.page.words(one.amount.place).split()) in told
        assert [stage.number for stage in stages(recipe)] == list(range(1, len(stages(recipe)) + 1))
