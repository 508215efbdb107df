"""The reading, the sums and the grounds, as they are shown."""

from __future__ import annotations

import json

import pytest
from msgspec.structs import replace

from overhaul.house import House
from overhaul.output import grounds, read_page, sums_page
from overhaul.recipe.model import Amount, Per
from overhaul.rules import FAMILIES, across, all_rules
from overhaul.rules.rule import Rule
from overhaul.span import Span
from overhaul.sums.answers import Wanted
from overhaul.sums.work import NAMES, Sums
from overhaul.sums.worked import figure
from tests.conftest import recipe_of
from tests.output.made import RECIPE, SALT, at

READ = """\
Corned flat — read as corned beef

   1 Corned flat
       > title
   2 about 20 portions
       > note
   3 Brine
       > heading
   4 3 cups salt
       > salt [salt]; 3 cups; told again as 12.5 ounces; or 4 cups
       > kosher salt; columns 3 cups, 6 cups; crossed out 5 cups; = 800
       > to 900 g (likely 876); doubtful: 3 or 8?
   5 2 (14 oz) bottles stout
       > stout [liquid]; 2 bottles of 14 ounces each per gallon of water
   6 Cure 7 to 10 days at 38 F, weighed down.
       > cure; 7 to 10 days; 38 °F (fridge); takes brine
   7 Then cook to 203 F ¿4.
       > not understood: 4 (column 21)

One way to finish it: Pot, line 7.
"""

BESIDE = """\
Corned flat — read as corned beef

   1 Corned flat                      │ title
   2 about 20 portions                │ note
   3 Brine                            │ heading
   4 3 cups salt                      │ salt [salt]; 3 cups; told again as 12.5 ounces; or
                                      │ 4 cups kosher salt; columns 3 cups, 6 cups;
                                      │ crossed out 5 cups; = 800 to 900 g (likely 876);
                                      │ doubtful: 3 or 8?
   5 2 (14 oz) bottles stout          │ stout [liquid]; 2 bottles of 14 ounces each per
                                      │ gallon of water
   6 Cure 7 to 10 days at 38 F,       │ cure; 7 to 10 days; 38 °F (fridge); takes brine
     weighed down.                    │
   7 Then cook to 203 F ¿4.           │ not understood: 4 (column 21)

One way to finish it: Pot, line 7.
"""



def test_the_reading_stands_beside_every_line() -> None:
    assert read_page.render([RECIPE], 90) == BESIDE


def test_on_a_narrow_terminal_it_stands_under_the_line() -> None:
    assert read_page.render([RECIPE], 72) == READ


CARD = "Card\n\n1 gal water\n2 bay leaves, crumbled by hand\n\nStir slowly with the old paddle, 20 minutes.\n"


def test_words_not_used_are_told_and_on_a_terminal_set_back() -> None:
    plain, grey = (read_page.render([recipe_of(CARD)], 100, colour) for colour in (False, True))
    assert "not used: crumbled, hand\n" in plain
    assert "not used: slowly, old, paddle\n" in plain
    assert "Stir \x1b[2mslowly\x1b[22m with the \x1b[2mold\x1b[22m" in grey
    assert grey.replace("\x1b[2m", "").replace("\x1b[22m", "") == plain


@pytest.mark.parametrize("text", ["1 gal cold water (ice cold)", "4 tsp level cure #1", "2 flats, trimmed of fat, 1 1/2 in. thick", "2 gal ice by weight, that is as heavy as the water"])
def test_a_word_that_settles_something_is_not_called_unused(text: str) -> None:
    assert "not used" not in read_page.render([recipe_of(f"Card\n\n1 lb salt\n{text}\n")])


@pytest.mark.parametrize(
    ("amount", "per", "said"),
    [
        (Amount(SALT.amount.low, SALT.amount.high, "percent", at("3")) if SALT.amount else None, Per(None, None, "meat", at("3")), "salt [salt]; 3 % of the meat"),
        (None, Per(None, None, None, at("3")), "salt [salt]"),
        (SALT.amount, Per(SALT.amount.low if SALT.amount else None, "pound", "meat", at("3")), "salt [salt]; 3 cups per 3 pounds of meat"),
        (Amount(SALT.amount.low, SALT.amount.high, "leaf", at("3")) if SALT.amount else None, None, "salt [salt]; 3 leaves"),
    ],
)
def test_rates_are_said_in_words(amount: Amount | None, per: Per | None, said: str) -> None:
    item = replace(SALT, amount=amount, per=per, also=(), instead=(), columns=(), was=(), mass=None, doubt=None)
    section = replace(RECIPE.sections[0], ingredients=(item,))
    assert f"       > {said}\n" in read_page.render([replace(RECIPE, sections=(section,))], 72)


def test_a_long_line_is_folded_under_itself() -> None:
    long = replace(RECIPE, lines=(replace(RECIPE.lines[0], text="salt and water " * 20),))
    assert all(len(line) <= 60 for line in read_page.render([long], 60).splitlines())


BRINE = "Brine\n\n1 lb salt\n1 gal water\n"


def test_every_sum_is_worked_or_told_what_is_missing() -> None:
    recipe = recipe_of(BRINE)
    sums = Sums(recipe, House())
    shown = sums_page.render([(recipe, sums)])
    worked, missing = shown.split("Not worked\n")
    assert "\nsalt mass: 454 g\n" in worked
    for name in NAMES:
        words = name.replace("_", " ")
        assert (f"\n{words}: " in worked) == (sums.get(name) is not None)
        lacking = any(f"{mark} {words}{end}" in f"{' '.join(missing.split())} " for mark in ":," for end in ", ")
        assert lacking == (sums.get(name) is None)
    assert shown.endswith("decide.\n")


CURED = "Corned beef\n\n5 lb brisket flat, 2 in thick\n1 gal water\n1 1/2 cups salt\n2 tsp cure #1\n\nStir it cold. Flat in the brine, walk-in at 38 F, 9 days.\n"


def test_a_sum_with_a_limit_is_drawn_and_the_limit_named() -> None:
    recipe = recipe_of(CURED)
    lines = sums_page.render([(recipe, Sums(recipe, House()))]).splitlines()
    start = next(index for index, line in enumerate(lines) if line.startswith("nitrite equilibrium: "))
    drawn = next(index for index in range(start, len(lines)) if "├" in lines[index])
    assert lines[drawn].count("|") == 1
    assert lines[drawn].endswith(" ppm")
    assert lines[drawn + 1] == "    | the limit: 200 ppm for whole muscle in brine (9 CFR 424.21(c))"
    assert lines[drawn + 2].startswith("    What makes it wide: cure #1, ")


def test_a_bar_of_plain_characters_and_none_where_it_is_narrow() -> None:
    recipe = recipe_of(CURED)
    sums = Sums(recipe, House())
    plain = sums_page.render([(recipe, sums)], ascii=True)
    assert "├" not in plain
    assert "0 [" in plain
    assert "├" not in sums_page.render([(recipe, sums)], 40)


def test_next_to_nothing_is_nothing() -> None:
    assert figure(Span(7e-59, 6e-13, 0.11), "ppm") == "0 to 0.11 ppm (likely 0)"
    assert figure(Span(1e-10, 2e-10, 4.5e-10), "m2/s") == "1e-10 to 4.5e-10 m2/s (likely 2e-10)"


def test_sums_as_json() -> None:
    recipe = recipe_of(BRINE)
    tree = json.loads(sums_page.render_json([(recipe, Sums(recipe, House()))]))
    assert list(tree) == ["sums"]
    assert tree["sums"]["salt_mass"] == {
        "low": 453.59237, "likely": 453.59237, "high": 453.59237, "unit": "gram", "formula": "all of it together",
        "inputs": [{"name": "salt", "low": 453.59237, "likely": 453.59237, "high": 453.59237, "unit": "gram", "line": 3, "stated": True}],
    }  # fmt: skip


def test_the_index_names_every_family_and_every_rule_once() -> None:
    lines = grounds.index().splitlines()
    assert [line for line in lines if line and not line.startswith(" ")][:-1] == [*(family.replace("_", " ") for family in FAMILIES), "across pages"]
    assert [line.strip() for line in lines if line.startswith("  ") and not line.startswith("   ")] == [rule.name for rule in (*all_rules(), *across.RULES)]


@pytest.mark.parametrize("rule", (*all_rules(), *across.RULES), ids=lambda rule: rule.name)
def test_each_rule_has_its_page(rule: Rule) -> None:
    shown = grounds.page(rule, 80)
    heads = [line for line in shown.splitlines() if line and not line.startswith(" ")]
    wanted = [rule.name, "Reports", "Why", *(["The sum"] if rule.sum else []), "Stays silent", "Sources", "A text it is silent on", "A text it speaks of", f"There it says, at {rule.expect[0]}:"]
    assert heads == wanted


CORNED = "Corned flat\n\n2 kg brisket flat, 45 mm thick\n4 kg water\n350 g salt\n42 g cure no. 1 (6.25 % nitrite)\n\nBrine the flat 7 days at 3 °C. Rinse.\n"


def test_what_to_weigh_out_stands_below_the_sums() -> None:
    recipe = recipe_of(CORNED)
    page = sums_page.render([(recipe, Sums(recipe, House()))], 100, Wanted(nitrite=150, celsius=4))
    assert page.index("To weigh out\n") < page.index("Not worked\n")
    assert "For 150 ppm nitrite: " in page
    assert "    Worked again from that: nitrite equilibrium " in page
    assert "    a cold brine: cannot be told; the brine is not heated\n" in page


def test_what_is_asked_for_stands_in_the_json_too() -> None:
    recipe = recipe_of(CORNED)
    tree = json.loads(sums_page.render_json([(recipe, Sums(recipe, House()))], Wanted(nitrite=150, celsius=4)))
    assert list(tree) == ["sums", "weigh_out"]
    first = tree["weigh_out"][0]
    assert (first["name"], first["asked"]) == ("nitrite", "150 ppm nitrite")
    assert list(first["weigh"][0]) == ["name", "amount", "unit", "line"]
    assert first["again"]["nitrite_equilibrium"]["likely"] == pytest.approx(150, abs=0.5)
    assert {"name": "ice", "asked": "a cold brine", "why": "the brine is not heated"} in tree["weigh_out"]


def test_nitrite_by_each_sum_stands_on_one_scale() -> None:
    recipe = recipe_of(CORNED)
    page = sums_page.render([(recipe, Sums(recipe, House()))], 100)
    rows = page[page.index("Nitrite by each sum\n") :].splitlines()[1:4]
    assert [row.split("0 ├")[0].strip() for row in rows] == ["pick up", "equilibrium", "estimate"]
    assert len({row.split("┤")[1] for row in rows}) == 1
    assert len({row.index("|") for row in rows}) == 1


def test_grounds_in_markdown() -> None:
    rule = next(one for one in all_rules() if one.name == "curing-salt-over-limit")
    shown = grounds.page(rule, markdown=True)
    assert shown.startswith("# curing-salt-over-limit\n\n## Reports\n\n")
    assert "\n- 9 CFR 424.22(b), nitrite, nitrate and accelerators in bacon (US Department of Agriculture, Food Safety and Inspection Service, 2026), (b): read there\n" in shown
    assert shown.count("````text\n") == 2
    assert shown.endswith(f"> {rule.expect[1]}\n")
    assert grounds.index(markdown=True).startswith("# The rules\n\n## Curing salt\n\n- **curing-salt-over-limit**: ")


def test_grounds_say_how_far_a_figure_was_checked() -> None:
    rule = next(one for one in all_rules() if one.name == "cooling-slow")
    assert "read there" in grounds.page(rule, 200)
    assert "seen second-hand" in grounds.page(rule, 200)
