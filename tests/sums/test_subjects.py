"""How the sums are shared out over files, and what each leaves to the next."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module

import pytest

from overhaul.house import House
from overhaul.sums import of_cure, of_time, work
from overhaul.sums.work import NAMES, Sums
from tests.sums.recipes import item, recipe

SUBJECTS = ("of_amounts", "of_brine", "of_cure", "of_time", "of_salt", "of_heat")


def _loaded(code: str) -> list[str]:
    """The subjects that are loaded after ``code``, in a Python of its own."""
    show = f"{code}; import sys; print(*[name for name in {(*SUBJECTS, 'settling')!r} if f'overhaul.sums.{{name}}' in sys.modules])"
    return subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True).stdout.split()


def test_every_sum_is_worked_in_one_file_and_every_name_has_one() -> None:
    found = [(name, subject) for subject in SUBJECTS for name in import_module(f"overhaul.sums.{subject}").SUMS]
    assert sorted(name for name, _ in found) == sorted(NAMES)
    assert all(work._SUBJECT_OF.get(name, "of_cure") == subject for name, subject in found)


@pytest.mark.parametrize("module", [*SUBJECTS, "settling", "work"])
def test_each_file_can_be_the_first_that_is_imported(module: str) -> None:
    """No import goes round: ``work`` is whole before a subject asks for it."""
    loaded = _loaded(f"import overhaul.sums.{module}")
    assert module in loaded or (module == "work" and not loaded)


def test_an_audit_loads_no_subject_that_its_rules_do_not_ask_for() -> None:
    page = "Brine\\n\\n2 kg brisket flat, 40 mm thick\\n100 g salt\\n2 kg water\\n20 g cure no. 1\\n\\nBrine it for 5 days. Simmer to 195 F inside.\\n"
    loaded = _loaded(f"from overhaul import pipeline; from overhaul.house import House; pipeline.audit(b'{page}', 'x.txt', House())")
    assert "of_salt" in loaded
    assert "of_heat" not in loaded


def test_a_name_that_is_no_sum_is_a_reason() -> None:
    sums = Sums(recipe(item("water", 2000), item("salt", 100), item("cure1", 10, nitrite=6.25)), House())
    assert sums.get("nitrate_estimate") is None
    assert sums.why_not("nitrate_estimate") == "no sum nitrate_estimate"


def test_what_several_sums_rest_on_is_worked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    held, bath = of_cure._held, of_time._bath

    def held_once(sums: Sums, agent: str) -> of_cure.Held:
        asked.append(agent)
        return held(sums, agent)

    def bath_once(sums: Sums) -> of_time.Bath:
        asked.append("bath")
        return bath(sums)

    monkeypatch.setattr(of_cure, "_held", held_once)
    monkeypatch.setattr(of_time, "_bath", bath_once)
    assert len(Sums(recipe(item("water", 2000), item("salt", 100), item("cure1", 10, nitrite=6.25)), House()).all()) > 10
    assert asked.count("nitrite") == asked.count("bath") == 1
