"""Rules of a kitchen's own, from a distribution that is really built, installed and run."""

from __future__ import annotations

import importlib
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import overhaul
from overhaul import cache, entry_points
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.rules import Case, Rule, all_rules, every_rule, plug_ins, run
from overhaul.sums.work import Sums
from overhaul.text import Place
from tests.conftest import ROOT, recipe_of

EXAMPLE = Path(__file__).parent / "plug_in_example"
PAGE = "Rub\n\n5 lb pork belly\n5.5 g cure #1\n"


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example, built from a copy and installed into a folder of its own."""
    folder = tmp_path_factory.mktemp("plug-in")
    shutil.copytree(EXAMPLE, folder / "source", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info", "build"))
    made = subprocess.run([sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(folder / "site"), str(folder / "source")], capture_output=True, text=True, check=False)
    if made.returncode and ("No matching distribution" in made.stderr or "Could not find a version" in made.stderr):
        pytest.skip("pip reaches no index to build with")
    assert made.returncode == 0, made.stderr
    return folder / "site"


def program(*arguments: str | Path, site: Path | None = None, cwd: Path | None = None, **environment: str) -> subprocess.CompletedProcess[str]:
    path = os.pathsep.join(str(one) for one in (site, os.environ.get("PYTHONPATH") or ROOT / "src") if one is not None)
    return subprocess.run([sys.executable, "-m", "overhaul", *map(str, arguments)], capture_output=True, text=True, check=False, cwd=cwd, env={**os.environ, "PYTHONPATH": path, **environment})


def rules_told(done: subprocess.CompletedProcess[str]) -> list[str]:
    return [finding["rule"] for finding in json.loads(done.stdout)["files"][0]["findings"]]


@pytest.fixture
def page(tmp_path: Path) -> Path:
    (tmp_path / "belly.txt").write_text(PAGE)
    return tmp_path / "belly.txt"


# The example, from the outside.


def test_an_installed_rule_runs_with_our_own(installed: Path, page: Path) -> None:
    done = program("audit", page, site=installed)
    assert f"{page}:4:14: query: cure-mixed-by-nobody\n    Who mixed the curing salt? The page does not say.\n    | 5.5 g cure #1\n    |              ^ here\n" in done.stdout
    assert "    Source: Rule of this house, from an installed plug-in, cellar binder, page 3\n    Remedy: Write “mixed by” and the initials.\n" in done.stdout
    assert done.stderr == ""
    own = rules_told(program("audit", page, "--as", "json"))
    assert sorted(rules_told(program("audit", page, "--as", "json", site=installed))) == sorted([*own, "cure-mixed-by-nobody"])


def test_an_installed_rule_stands_in_every_report_and_in_every_worker(installed: Path, tmp_path: Path) -> None:
    for name in ("one.txt", "two.txt", "three.txt"):
        (tmp_path / name).write_text(PAGE)
    run = json.loads(program("audit", tmp_path, "--as", "sarif", "--workers", "2", site=installed).stdout)["runs"][0]
    spoken = [one for one in run["results"] if one["ruleId"] == "cure-mixed-by-nobody"]
    assert len(spoken) == 3
    assert run["tool"]["driver"]["rules"][spoken[0]["ruleIndex"]]["shortDescription"]["text"] == "A page with curing salt that does not say who mixed it."


def test_its_sign_off_is_known(installed: Path, tmp_path: Path) -> None:
    (tmp_path / "belly.txt").write_text(PAGE + '\nSigned off: cure-mixed-by-nobody on "5.5 g", K.M., 2026-03-02: it was me\n')
    told = json.loads(program("audit", tmp_path, "--as", "json", site=installed).stdout)["files"][0]["findings"]
    assert [one["signed_off"]["by"] for one in told if one["rule"] == "cure-mixed-by-nobody"] == ["K.M."]
    assert "sign-off-not-read" not in [one["rule"] for one in told]
    assert "sign-off-not-read" in rules_told(program("audit", tmp_path, "--as", "json"))


def test_the_grounds_show_it_last_under_its_distribution(installed: Path) -> None:
    index = program("grounds", site=installed).stdout
    assert "\nfrom the plug-in cellar-rules 1.2\n  cure-mixed-by-nobody\n      A page with curing salt that does not say who mixed it.\n\novergrounds" in index.replace("overhaul grounds", "overgrounds")
    one = program("grounds", "cure-mixed-by-nobody", site=installed).stdout
    assert one.startswith("cure-mixed-by-nobody\n\nFrom the plug-in\n    cellar-rules 1.2\n\nReports\n")
    assert program("grounds", "cure-mixed-by-nobody").returncode == 2


def test_the_environment_switches_it_off(installed: Path, page: Path) -> None:
    assert "cure-mixed-by-nobody" not in program("audit", page, site=installed, OVERHAUL_PLUG_INS="off").stdout


def test_what_lies_in_the_folder_worked_in_is_no_plug_in(installed: Path, tmp_path: Path) -> None:
    """``python -m`` puts that folder on the path; a binder must not bring code along."""
    shutil.copytree(installed, tmp_path, dirs_exist_ok=True)
    (tmp_path / "belly.txt").write_text(PAGE)
    done = program("audit", "belly.txt", "--as", "json", cwd=tmp_path)
    assert "cure-mixed-by-nobody" not in rules_told(done)


def test_the_examples_own_texts_are_true(installed: Path) -> None:
    code = (
        "import overhaul; from cellar_rules import RULE\n"
        "for text in (RULE.sound, RULE.faulty):\n"
        "    audited = overhaul.audit(text)\n"
        "    print([('%d:%d-%d' % (*(at := overhaul.placed(one, audited.page))[:2], at[3]), one.message) for one in audited.findings if one.rule == RULE.name] == ([RULE.expect] if text == RULE.faulty else []))\n"
    )
    path = os.pathsep.join([str(installed), os.environ.get("PYTHONPATH") or str(ROOT / "src")])
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": path})
    assert done.stdout == "True\nTrue\n"


# Plug-ins that cannot stand: a distribution written by hand.


def distribution(site: Path, name: str, module: str, entry: str = "", entries: str | None = None) -> None:
    stem = name.replace("-", "_")
    folder = site / f"{stem}-0.3.dist-info"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 0.3\n")
    (folder / "entry_points.txt").write_text(entries or f"[overhaul.rules]\nhouse = {entry or stem}\n")
    (site / f"{stem}.py").write_text(module)


_HEAD = "from overhaul import Case, Cite, Finding, Grade, Place, Rule\nimport sys\n"
_RULE = 'RULE = Rule("ask-the-owner", "house", check, "r.", "w.", "s.", (Cite("house-rule"),), "", "", ("1:1-1", "m"))\n'
_SAYS = _HEAD + "def check(case):\n    yield Finding({}, Grade.QUERY, False, {}, {}, sources={})\n" + _RULE
GOOD = _SAYS.format('"ask-the-owner"', "Place(0, 3)", '"Ask."', '(Cite("house-rule"),)')


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder on the path of this process, where a test puts distributions."""
    folder = tmp_path / "site"
    folder.mkdir()
    before = set(sys.modules)
    monkeypatch.syspath_prepend(str(folder))
    monkeypatch.delenv(entry_points.SWITCH, raising=False)
    plug_ins.found.cache_clear()
    yield folder
    monkeypatch.undo()
    plug_ins.found.cache_clear()
    importlib.invalidate_caches()
    for name in set(sys.modules) - before:
        if name.startswith("rules_of"):
            del sys.modules[name]


def said(text: str = PAGE) -> list[Finding]:
    recipe = recipe_of(text)
    house = overhaul.House()
    names = {rule.name for rule in all_rules()}
    return [one for one in run(Case(recipe, Sums(recipe, house), house)) if one.rule not in names]


@pytest.mark.parametrize(
    ("module", "entry"),
    [(GOOD, ""), (GOOD, "rules_of_ours:RULE"), (GOOD.replace("RULE =", "ONE ="), "rules_of_ours:ONE"), (GOOD.replace("RULE =", "ONE =") + "RULES = (ONE,)\n", ""), (GOOD + "ALL = [RULE]\n", "rules_of_ours:ALL")],
    ids=["a module", "its rule", "a rule by another name", "a module of several", "a list"],
)
def test_the_ways_to_give_a_rule(site: Path, module: str, entry: str) -> None:
    distribution(site, "rules-of-ours", module, entry)
    assert [(one.rule, one.message, one.place) for one in said()] == [("ask-the-owner", "Ask.", Place(0, 3))]
    assert [one.partition(" [")[0] for one in entry_points.installed()] == [f"rules-of-ours 0.3 house {entry or 'rules_of_ours'}"]
    assert [rule.name for rule in every_rule()][-1] == "ask-the-owner"


def test_a_plug_in_that_is_put_in_edited_or_switched_off_leaves_no_old_result(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def key() -> bytes:
        cache.fingerprint.cache_clear()
        return cache.key(PAGE.encode(), "page.txt", overhaul.House())

    before = key()
    distribution(site, "rules-of-ours", GOOD)
    importlib.invalidate_caches()
    with_it = key()
    (site / "rules_of_ours.py").write_text(GOOD.replace("Ask.", "Ask twice."))
    edited = key()
    monkeypatch.setenv(entry_points.SWITCH, "off")
    assert len({before, with_it, edited}) == 3
    assert key() == before
    cache.fingerprint.cache_clear()


BAD = {
    "it does not import": ("raise ImportError('no scale')\n", "", "ImportError: no scale"),
    "a slip in it": ("def check(:\n", "", "SyntaxError: invalid syntax (rules_of_ours.py, line 1)"),
    "it ends the program": ("raise SystemExit(3)\n", "", "SystemExit: 3"),
    "no rule in it": ("x = 1\n", "", "“rules_of_ours” is neither a Rule nor a module with RULE or RULES"),
    "no such thing in it": (GOOD, "rules_of_ours:NONE", "AttributeError: module 'rules_of_ours' has no attribute 'NONE'"),
    "something else": ("RULE = 'ask'\n", "", "“rules_of_ours” is neither a Rule nor a module with RULE or RULES"),
    "one of our names": (GOOD.replace('Rule("ask-the-owner"', 'Rule("brine-weak"'), "", "“brine-weak” is a rule of Overhaul itself already"),
    "a code for a name": (GOOD.replace('Rule("ask-the-owner"', 'Rule("R001"'), "", "'R001' is no name for a rule: plain words in small letters, joined by hyphens"),
    "two of one name": (GOOD + "RULES = [RULE, RULE]\n", "", "two of its rules have one name"),
    "a source nobody knows": (GOOD.replace('"s.", (Cite("house-rule"),)', '"s.", (Cite("hearsay"),)'), "", "“ask-the-owner”: there is no source Cite(key='hearsay', where=''); a kitchen's own binder is Cite(\"house-rule\", \"where in it\")"),
    "no texts": (GOOD.replace('"w."', "None"), "", "“ask-the-owner”: a function to check and texts for family, reports, why, silent, sound, faulty are wanted"),
    "nothing to check": (GOOD.replace("check, ", "None, "), "", "“ask-the-owner”: a function to check and texts for family, reports, why, silent, sound, faulty are wanted"),
    "no place to expect": (GOOD.replace('("1:1-1", "m")', '("m",)'), "", "“ask-the-owner”: expect is a place and the message there"),
}  # fmt: skip


@pytest.mark.parametrize(("module", "entry", "why"), BAD.values(), ids=BAD)
def test_a_plug_in_that_cannot_load_is_left_out_in_one_line(site: Path, module: str, entry: str, why: str) -> None:
    distribution(site, "rules-of-ours", module, entry)
    distribution(site, "rules-of-others", GOOD.replace("ask-the-owner", "ask-the-others"))
    assert plug_ins.found().left_out == (f"the plug-in “house” of rules-of-ours 0.3 is left out: {why}",)
    assert [one.rule for one in said()] == ["ask-the-others"]  # the rest goes on
    with pytest.warns(UserWarning, match="is left out"):
        overhaul.audit(PAGE)


def test_the_command_line_says_so_once_and_keeps_its_status(tmp_path: Path, page: Path) -> None:
    distribution(tmp_path / "site", "rules-of-ours", "print('chatter'); raise ImportError('no scale')\n")
    (page.parent / "other.txt").write_text(PAGE)
    without = program("audit", page, page.parent / "other.txt", "--stop-at", "never", "--workers", "2", "--as", "plain")
    done = program("audit", page, page.parent / "other.txt", "--stop-at", "never", "--workers", "2", site=tmp_path / "site")
    assert done.stderr == "overhaul: the plug-in “house” of rules-of-ours 0.3 is left out: ImportError: no scale\n"
    assert done.returncode == without.returncode == 0
    assert without.stdout in done.stdout
    assert program("grounds", site=tmp_path / "site").stderr == done.stderr


def test_of_two_distributions_with_one_name_for_a_rule_the_first_by_name_has_it(site: Path) -> None:
    distribution(site, "rules-of-ours", GOOD)
    distribution(site, "rules-of-others", GOOD.replace('"Ask."', '"Ask them."'))
    assert [one.message for one in said()] == ["Ask them."]
    assert plug_ins.found().left_out == ("the plug-in “house” of rules-of-ours 0.3 is left out: “ask-the-owner” is a rule of rules-of-others 0.3 already",)


FAILING = {
    "it raises": (_HEAD + "def check(case):\n    raise KeyError('pump')\n" + _RULE, "KeyError: 'pump'"),
    "it ends the program": (_HEAD + "def check(case):\n    sys.exit(1)\n" + _RULE, "SystemExit: 1"),
    "it gives nothing to go through": (_HEAD + "def check(case):\n    return None\n" + _RULE, "TypeError: 'NoneType' object is not iterable"),
    "no finding": (_HEAD + "def check(case):\n    yield 'ask'\n" + _RULE, "it gave str where a Finding is wanted"),
    "in our name": (_SAYS.format('"brine-weak"', "Place(0, 3)", '"Ask."', "()"), "it spoke in the name of “brine-weak”"),
    "no message": (_SAYS.format('"ask-the-owner"', "Place(0, 3)", "None", "()"), "what it gave is no whole Finding: Expected `str`, got `null` - at `message`"),
    "no place": (_SAYS.format('"ask-the-owner"', "None", '"Ask."', "()"), "what it gave is no whole Finding: Expected `array`, got `null` - at `place`"),
    "a place past the page": (_SAYS.format('"ask-the-owner"', "Place(0, 999)", '"Ask."', "()"), "a place outside the page: 0 to 999"),
    "a source nobody knows": (_SAYS.format('"ask-the-owner"', "Place(0, 3)", '"Ask."', '(Cite("hearsay"),)'), "“ask-the-owner”: there is no source Cite(key='hearsay', where=''); a kitchen's own binder is Cite(\"house-rule\", \"where in it\")"),
}  # fmt: skip


@pytest.mark.parametrize(("module", "why"), FAILING.values(), ids=FAILING)
def test_a_rule_that_fails_on_a_page_is_told_there_by_name(site: Path, module: str, why: str) -> None:
    distribution(site, "rules-of-ours", module)
    (finding,) = said()
    assert (finding.rule, finding.grade, finding.place) == ("ask-the-owner", Grade.QUERY, Place(0, 0))
    assert finding.message == f"This rule, from the plug-in “house” of rules-of-ours 0.3, failed on this page ({why}); look at the page yourself."
    assert len(overhaul.audit(PAGE).findings) > 1


def test_an_edit_past_the_page_is_no_remedy(monkeypatch: pytest.MonkeyPatch) -> None:
    def check(case: Case) -> Iterator[Finding]:
        yield Finding("ask-the-owner", Grade.QUERY, False, Place(0, 1), "Ask.", remedy=Remedy("Write.", (Edit(Place(0, 5000), "x"),)))

    rule = Rule("ask-the-owner", "house", check, "r.", "w.", "s.", (Cite("house-rule"),), "", "", ("1:1-1", "m"))
    recipe = recipe_of(PAGE)
    with pytest.raises(plug_ins.Bad, match="a place outside the page: 0 to 5000"):
        list(plug_ins.said_by(rule, Case(recipe, Sums(recipe, overhaul.House()), overhaul.House())))


def test_another_group_is_not_ours(site: Path) -> None:
    distribution(site, "rules-of-ours", GOOD, entries="[console_scripts]\noverhaul.rules = rules_of_ours\n[overhaul.rules.old]\na = rules_of_ours\n")
    assert (said(), entry_points.installed()) == ([], ())


def test_off_is_off_however_it_is_spelt(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    distribution(site, "rules-of-ours", GOOD)
    for word, rules in (("off", 0), ("No", 0), ("0", 0), ("on", 1), ("", 1)):
        monkeypatch.setenv(entry_points.SWITCH, word)
        plug_ins.found.cache_clear()
        found: Any = plug_ins.rules()
        assert len(found) == rules, word
