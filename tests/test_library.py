"""``import overhaul``: the functions, what they take, what they give, how they fail; and that a type checker sees it all."""

from __future__ import annotations

import inspect
import json
import pickle
import subprocess
import sys
import textwrap
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, get_args

import pytest
from click.testing import CliRunner

import overhaul
from overhaul import library
from overhaul.cli import main
from overhaul.output import batch_page
from overhaul.sums.work import Sums
from tests.conftest import CORPUS
from tests.copying import clean_copy

BACON = CORPUS / "bacon-with-the-wrong-cure.txt"
TEXT = BACON.read_text("utf-8")
SHEETED = CORPUS / "with-house-sheet"
FUNCTIONS: tuple[Callable[..., Any], ...] = (overhaul.read, overhaul.audit, overhaul.sums, overhaul.convert)


def told(*arguments: str | Path) -> str:
    return CliRunner().invoke(main, [str(one) for one in arguments]).stdout


# What is there.


def test_every_name_of_the_face_is_there_and_is_the_programs_own() -> None:
    for name in overhaul.__all__:
        assert getattr(overhaul, name).__module__.startswith("overhaul.") if name not in ("batch", "sums") else callable(getattr(overhaul, name))
    assert set(overhaul.__all__) <= set(dir(overhaul))
    with pytest.raises(AttributeError, match="no attribute 'marinade'"):
        overhaul.marinade  # type: ignore[attr-defined]  # noqa: B018


@pytest.mark.parametrize("function", [library.read, library.audit, library.sums, library.convert, library.batch], ids=lambda function: function.__name__)
def test_every_function_is_typed_and_says_what_it_raises(function: Callable[..., Any]) -> None:
    assert "Raises CannotDo" in (function.__doc__ or "")
    assert inspect.Signature.empty not in [one.annotation for one in inspect.signature(function).parameters.values()]
    assert inspect.signature(function).return_annotation is not inspect.Signature.empty


def test_sums_is_called_and_is_a_package_whatever_was_imported_first() -> None:
    code = "import overhaul; {first}; print(len(overhaul.sums('Brine\\n\\n1 lb salt\\n1 gal water\\n')), overhaul.sums.work.NAMES[0])"
    for first in ("pass", "import overhaul.sums.work", "from overhaul import sums; sums('Brine\\n\\n1 lb salt\\n')", "import overhaul.library"):
        done = subprocess.run([sys.executable, "-c", code.format(first=first)], capture_output=True, text=True, check=True)
        assert done.stdout == "1 water_mass\n", first
    assert list(inspect.signature(overhaul.sums).parameters) == ["page", "name", "house", "law"]


# One page three ways.


@pytest.mark.parametrize("page", [BACON, BACON.read_bytes(), TEXT], ids=["a file", "its bytes", "its text"])
def test_a_file_its_bytes_and_its_text_say_the_same(page: Path | bytes | str) -> None:
    (recipe,) = overhaul.read(page)
    assert (recipe.title, [item.role for item in recipe.ingredients][:1], type(recipe)) == ("BACON - DRY RUB", ["meat"], overhaul.Recipe)
    audited = overhaul.audit(page)
    assert isinstance(audited, overhaul.Audited)
    assert audited.page is not None
    assert [(one.rule, one.grade, *overhaul.placed(one, audited.page)[:2]) for one in audited.findings] == [
        ("curing-salt-over-limit", overhaul.Grade.HAZARD, 6, 1), ("nitrate-in-bacon", overhaul.Grade.HAZARD, 6, 6), ("keeps-too-long", overhaul.Grade.FAULT, 11, 50),
    ]  # fmt: skip
    (worked,) = overhaul.sums(page)
    assert worked.recipe.title == recipe.title
    assert isinstance(worked.sums["nitrite_direct"], overhaul.Sum)
    assert (round(worked.sums["nitrite_direct"].value.likely), worked.sums["nitrite_direct"].unit) == (391, "ppm")
    assert worked.missing["brine_strength"]
    assert not set(worked.sums) & set(worked.missing)


@pytest.mark.parametrize("to", ["yaml", "json", "jsonld", "text", "markdown"])
def test_convert_gives_what_the_command_gives(to: library.Form) -> None:
    assert overhaul.convert(BACON, to) == told("convert", BACON, "--to", to)


def test_every_form_of_the_command_is_one_of_the_library() -> None:
    (option,) = [one for one in main.commands["convert"].params if one.name == "to"]
    assert get_args(library.Form) == option.type.choices  # type: ignore[attr-defined]


@pytest.mark.parametrize("path", sorted(CORPUS.glob("*.txt"))[:6], ids=lambda path: path.stem)
def test_audit_and_sums_give_what_the_commands_give(path: Path) -> None:
    from overhaul.output import findings_json
    from overhaul.output.tree import sums_tree

    assert findings_json.render([overhaul.audit(path)]) == told("audit", path, "--as", "json")
    trees = [{"sums": sums_tree(one.sums)} for one in overhaul.sums(path)]
    assert (trees[0] if len(trees) == 1 else trees) == json.loads(told("sums", path, "--as", "json"))


def test_a_recipe_file_is_read_back(tmp_path: Path) -> None:
    file = tmp_path / "bacon.yaml"
    file.write_text("# ours\n" + overhaul.convert(BACON), "utf-8")
    assert [one.title for one in overhaul.read(file)] == ["BACON - DRY RUB"]
    assert overhaul.convert(file).startswith("# ours\nformat: overhaul/1\n")
    assert {one.rule for one in overhaul.audit(file).findings} == {one.rule for one in overhaul.audit(BACON).findings}
    assert overhaul.sums(file)[0].sums["nitrite_direct"] == overhaul.sums(BACON)[0].sums["nitrite_direct"]


def test_the_name_tells_the_kind_of_bytes() -> None:
    table = b"Corned flat,\n4 lb,brisket flat\n1 lb,salt\n"
    audited = overhaul.audit(table, name="flat.csv")
    assert (audited.file, audited.titles) == ("flat.csv", ("Corned flat",))


# The house.


def test_the_house_sheet_beside_a_file_counts_as_on_the_command_line() -> None:
    path = next(path for path in sorted(SHEETED.iterdir()) if path.suffix in (".txt", ".md"))
    with_sheet = overhaul.sums(path)[0].sums
    assert with_sheet == overhaul.sums(path, house=SHEETED / "house.yaml")[0].sums == overhaul.sums(path.read_bytes(), name=str(path), house=SHEETED / "house.yaml")[0].sums
    assert with_sheet != overhaul.sums(path, house=overhaul.House())[0].sums
    assert overhaul.sums(path.read_bytes())[0].sums == overhaul.sums(path, house=overhaul.House())[0].sums


def test_the_law_goes_before_the_house() -> None:
    def limits(**how: Any) -> str:
        return " ".join(one.message for one in overhaul.audit(TEXT, **how).findings)

    assert "9 CFR" in limits()
    assert "9 CFR" not in limits(law="eu")
    assert limits(law="eu") == limits(house=overhaul.House(law="eu")) == limits(house=overhaul.House(law="ca"), law="eu")


# What cannot be done.


@pytest.mark.parametrize("function", FUNCTIONS, ids=["read", "audit", "sums", "convert"])
@pytest.mark.parametrize(
    ("page", "file", "line", "reason"),
    [
        (b"", "-", None, "an empty page: nothing to read"),
        ("\n \n", "-", None, "an empty page: nothing to read"),
        (b"\x89PNG\r\n\x1a\n\0\0", "-", None, "a binary file, not text"),
        (Path("/no/such/page.txt"), "/no/such/page.txt", None, "there is no such file"),
        (CORPUS, str(CORPUS), None, "a folder; one file is wanted here"),
        ("flat.txt", "flat.txt", None, "a text is a page itself; to read a file, give Path(…)"),
        ("format: overhaul/1\ntitle: !!python/object:os.system x\n", "-", 2, "the tag “python/object:os.system” is not read here"),
        ("title: Flat\nformat: overhaul/1\nsections: 3\n", "-", 3, None),
    ],
)
def test_what_cannot_be_read_is_one_kind_of_error_with_file_and_line(function: Callable[..., Any], page: Path | bytes | str, file: str, line: int | None, reason: str | None) -> None:
    with pytest.raises(overhaul.CannotDo) as caught:
        function(page)
    problem = caught.value
    assert (problem.file, problem.line) == (file, line)
    assert problem.reason == reason or reason is None
    assert str(problem) == f"{file}:{line}: {problem.reason}" if line is not None else f"{file}: {problem.reason}"
    again = pickle.loads(pickle.dumps(problem))
    assert (again.file, again.line, again.reason, str(again)) == (problem.file, problem.line, problem.reason, str(problem))


@pytest.mark.parametrize(("sheet", "line", "reason"), [(b"kitchen: ours\nsold: perhaps\n", 2, "sold: true or false, not 'perhaps'"), (b"\xff", None, "a house sheet must be UTF-8 text"), (None, None, "there is no such file")])
def test_a_house_sheet_that_cannot_stand_is_told_with_its_line(tmp_path: Path, sheet: bytes | None, line: int | None, reason: str) -> None:
    file = tmp_path / "house.yaml"
    if sheet is not None:
        file.write_bytes(sheet)
        (tmp_path / "flat.txt").write_text(TEXT, "utf-8")
        with pytest.raises(overhaul.CannotDo, match=reason[:12]):
            overhaul.audit(tmp_path / "flat.txt")
    with pytest.raises(overhaul.CannotDo) as caught:
        overhaul.audit(TEXT, house=file)
    assert (caught.value.file, caught.value.line, caught.value.reason) == (str(file), line, reason)


def test_another_form_is_refused() -> None:
    with pytest.raises(ValueError, match="'pdf' is not one of yaml, json, jsonld, text, markdown"):
        overhaul.convert(TEXT, "pdf")  # type: ignore[arg-type]


@pytest.mark.parametrize("page", ["1 lb \ud800 salt\n1 gal water\n", "\ufeff1 lb salt\n", "x" * 5000, "1 lb salt\r1 gal water\r", "№ 🧂 5\n"])
def test_any_text_is_read_or_told(page: str) -> None:
    for function in FUNCTIONS:
        function(page)


# A batch.

METRIC = CORPUS / "salt-beef-metric.txt"


def test_a_batch_gives_what_the_command_gives() -> None:
    made = overhaul.batch(METRIC, meat="2.7 kg, 45 mm", cure="0.6 % nitrite")
    assert json.loads(told("batch", METRIC, "--meat", "2.7 kg, 45 mm", "--cure", "0.6 % nitrite", "--as", "json")) == json.loads(batch_page.render_json(made, Sums(made.recipe, overhaul.House()), METRIC.read_bytes()))
    assert [(line.name, line.gram) for line in overhaul.batch(METRIC, times=2).lines][:3] == [("beef brisket flat", 3600.0), ("cold water", 4000.0), ("pickling salt", 340.0)]
    assert overhaul.batch(METRIC.read_text("utf-8"), meat=["1 kg, 45 mm", "800 g, 45 mm"]).meat_gram == 1800


def test_a_batch_is_a_recipe_to_the_rest() -> None:
    made = overhaul.batch(METRIC, times=0.5)
    assert [finding.rule for finding in overhaul.audit(made.recipe.page.text).findings] == [one.finding.rule for one in made.findings]


@pytest.mark.parametrize(
    ("asked", "error", "said"),
    [
        ({"times": "x"}, ValueError, "times “x” cannot be read; say “2”, “1 1/2” or “0.5”"),
        ({"tub": "18 litre", "times": 2}, ValueError, "tub and times together say two sizes; say one of them (meat with tub is this meat in this tub)"),
        ({"times": 2, "recipe": 4}, overhaul.CannotDo, "a.txt: no recipe 4; there is 1"),
        ({"portions": "60 at 5 oz"}, None, ""),
    ],
)
def test_what_no_batch_can_be_made_of_is_told(asked: dict[str, Any], error: type[Exception] | None, said: str) -> None:
    if error is None:
        assert overhaul.batch(METRIC, **asked).factor > 1
        return
    with pytest.raises(error) as caught:
        overhaul.batch(METRIC.read_bytes(), name="a.txt", **asked)
    assert str(caught.value) == said


def test_a_batch_of_a_page_of_several_wants_its_number() -> None:
    page = "BELLY\n\n5 lb pork belly\n5.5 g cure #1\n\nCure 7 days at 38 F.\n\nLOIN\n\n4 lb pork loin\n4.4 g cure #1\n\nCure 9 days at 38 F.\n"
    with pytest.raises(overhaul.CannotDo, match="-: 2 recipes, and a batch is of one; recipe=1 to 2"):
        overhaul.batch(page, times=2)
    assert overhaul.batch(page, times=2, recipe=2).lines[0].name == "pork loin"


# Types, and the wheel.

_USER = """
    from pathlib import Path
    import overhaul

    recipes: tuple[overhaul.Recipe, ...] = overhaul.read(Path("flat.txt"))
    audited: overhaul.Audited = overhaul.audit(b"1 lb salt", name="x.txt", house=overhaul.House(law="eu"))
    messages: list[str] = [finding.message for finding in audited.findings if finding.grade is overhaul.Grade.HAZARD]
    likely: float = overhaul.sums("1 lb salt\\n")[0].sums["salt_mass"].value.likely
    page: str = overhaul.convert("1 lb salt\\n", "markdown")
    wrong: int = overhaul.convert("1 lb salt\\n")
    overhaul.audit(3)
    overhaul.nothing
"""


def test_a_type_checker_sees_the_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MYPYPATH", str(Path(overhaul.__file__).parent.parent))  # it does not follow an installation that leads to a working copy
    api = pytest.importorskip("mypy.api")
    (tmp_path / "user.py").write_text(textwrap.dedent(_USER), "utf-8")
    said, _, status = api.run(["--strict", "--no-error-summary", "--cache-dir", str(tmp_path / "cache"), str(tmp_path / "user.py")])
    assert status == 1
    assert [(line.split(":")[1], line[line.rindex("[") :]) for line in said.splitlines() if ": error:" in line] == [("10", "[assignment]"), ("11", "[arg-type]"), ("12", "[attr-defined]")]


def test_the_wheel_says_that_it_is_typed_and_has_what_it_needs(tmp_path: Path) -> None:
    copy = clean_copy(tmp_path / "copy")
    built = subprocess.run([sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(tmp_path / "wheel"), str(copy)], capture_output=True, text=True, check=False)
    if built.returncode and ("No matching distribution" in built.stderr or "Could not find a version" in built.stderr):
        pytest.skip("pip reaches no index to build with")
    assert built.returncode == 0, built.stderr
    (wheel,) = (tmp_path / "wheel").glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    assert "overhaul/py.typed" in names
    wanted = {"overhaul/" + path.relative_to(copy / "src/overhaul").as_posix() for path in (copy / "src/overhaul").rglob("*") if path.is_file()}
    assert wanted - names == set()
