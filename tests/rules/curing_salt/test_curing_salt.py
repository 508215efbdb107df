"""The curing salt rules on whole pages: everything that is said, and where."""

from __future__ import annotations

import pytest

from overhaul.findings import Finding
from overhaul.house import House
from overhaul.rules.curing_salt import curing_salt_over_limit, nitrate_over_limit
from overhaul.rules.texts import BACON, CORNED, PASTRAMI, TURKEY, changed
from tests.conftest import findings_of
from tests.rules.cases import case_with, edited, ppm, said, says

CURE = "20 g cure #1 (6.25 % nitrite)"
LOIN = changed(BACON, ("Dry-cured bacon", "Dry-cured loin"), ("Skinless pork belly, 5 lb, 1 1/2 in thick", "Pork loin, 5 lb, 2 in thick"), ("the belly", "the loin"))
STICKS = """\
Snack sticks

25 lb ground pork
8 oz salt
1 oz cure #1 (6.25 % nitrite)

Mix with the cure and salt. Refrigerate overnight at 38 F. Stuff. Smoke at 180 F until 160 F inside. Rest 10 minutes.
Cool from 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 4 days at 38 F.
"""
HAM = """\
Ham, pumped

1 boneless ham, 10 lb, 4 1/2" through

1 quart cold water, weighed: 2 lb 1 1/2 oz
5 oz pickling salt
2 oz sugar
26 g cure #1 (6.25 % nitrite)

Stir all of it into the cold water. Chill to 38 F.
Pump 10 % of green weight, weighed before and after. Needle it evenly all over.
Put it in a bag with the air pressed out. Refrigerate at 38 F for 4 days, turning daily.
Rinse, soak 2 hours in the refrigerator, dry on a rack in the refrigerator overnight.
Smoke at 225 F to 155 F inside, hold 1 minute there by the probe. Rest 20 minutes.
Cool from 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 7 days at 38 F.
"""
OVER, UNWEIGHED, LITTLE = "curing-salt-over-limit", "curing-salt-not-weighed", "curing-salt-too-little"


def with_cure(new: str, text: str = CORNED, old: str = CURE, name: str = "cure #1") -> str:
    """The page with another line of curing salt, and the method's word for it."""
    made = changed(text, (old, new))
    return changed(made, ("Stir in the cure #1", f"Stir in the {name}")) if name != "cure #1" else made


def one(text: str, rule: str, house: House | None = None) -> Finding:
    (found,) = [finding for finding in findings_of(text, house) if finding.rule == rule]
    return found


@pytest.mark.parametrize("text", [CORNED, PASTRAMI, BACON, TURKEY, LOIN, STICKS, HAM], ids=["corned", "pastrami", "bacon", "turkey", "loin", "sticks", "ham"])
def test_nothing_is_said_of_a_sound_page(text: str) -> None:
    assert said(text) == []


# 1 oz of 6.25 % cure to 25 lb is 156.25 ppm, the everyday dose (9 CFR 424.21(c), 1/4 oz nitrite to 100 lb); ten times it
# is 1,562. Pumped 10 %: 2 lb nitrite to 100 gal of 10 lb is 200 ppm. Rind: 200 less a tenth is 180 (handbook page 28).
@pytest.mark.printed
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (STICKS, []),
        (changed(STICKS, ("1 oz cure", "1 1/8 oz cure")), [(OVER, "certain hazard", "5:1-9")]),
        (changed(STICKS, ("1 oz cure", "10 oz cure")), [(OVER, "certain hazard", "5:1-6")]),
        (changed(HAM, ("26 g", "40 g")), [(OVER, "certain hazard", "8:1-5")]),
        (changed(BACON, ("Skinless", "Skin-on"), ("5.5 g", "6.5 g")), []),
        (changed(BACON, ("Skinless", "Skin-on"), ("5.5 g", "7 g")), [(OVER, "certain hazard", "6:1-4")]),
        (changed(BACON, ("5.5 g", "7 g")), []),
        (changed(BACON, ("5.5 g", "7.4 g")), [(OVER, "certain hazard", "6:1-6")]),
        (changed(LOIN, ("5.5 g", "11 g")), [(OVER, "hazard", "6:1-5")]),
        (changed(LOIN, ("5.5 g", "23 g"), ("55 g", "40 g")), [(OVER, "certain hazard", "6:1-5")]),
    ],
)
def test_one_sum_cures(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(text) == wanted


# Worked by hand from the page: 4,082.3 g beef, 3,770.5 g water, 283.5 g salt, 141.7 g sugar.
@pytest.mark.computed
@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("26.5 g cure #1 (6.25 % nitrite)", []),  # 1.656 g ÷ 8,304.6 g = 199.4 ppm
        ("26.8 g cure #1 (6.25 % nitrite)", [(OVER, "fault", "9:1-7")]),  # 1.675 g ÷ 8,304.9 g = 201.7 ppm
        ("4 1/2 tsp cure #1 (6.25 % nitrite)", [(UNWEIGHED, "query", "9:1-10")]),
        ("8 tsp cure #1 (6.25 % nitrite)", [(OVER, "hazard", "9:1-6")]),
        ("200 g cure #1 (6.25 % nitrite)", [(OVER, "hazard", "9:1-6")]),
        ("4 g cure #1 (6.25 % nitrite)", [(LITTLE, "fault", "9:1-4")]),
        ("1 g cure #1 (6.25 % nitrite)", [(LITTLE, "certain fault", "9:1-4")]),
        ("14 g cure #1 (6.25 % nitrite)", [(LITTLE, "query", "9:1-5")]),
        ("16 g cure #1 (6.25 % nitrite)", []),
        (".75 cure #1", [("curing-salt-without-unit", "query", "9:1-4")]),
    ],
)
def test_a_soaked_cure(line: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(with_cure(line)) == wanted


def test_curing_salt_taken_for_salt_is_certain() -> None:
    """10 oz of it in the place of the salt: 17.72 g ÷ 8,278 g = 2,140 ppm, above 2,000."""
    text = changed(with_cure("10 oz cure #1 (6.25 % nitrite)"), ("10 oz kosher salt\n", ""), ("Stir the salt, sugar", "Stir the sugar"))
    assert said(text) == [(OVER, "certain hazard", "8:1-6")]


@pytest.mark.parametrize(
    ("line", "name", "wanted"),
    [
        ("20 g pink salt", "pink salt", [("curing-salt-kind-not-named", "query", "9:6-15")]),
        ("20 g tinted cure", "tinted cure", []),
        ("20 g cure no. 2", "cure no. 2", [("nitrate-in-a-short-cure", "fault", "9:6-16")]),
        ("1.2 g sodium nitrite", "sodium nitrite", [("pure-nitrite", "fault", "9:7-21")]),
        ("20 g sodium nitrite", "sodium nitrite", [(OVER, "certain hazard", "9:1-5"), ("pure-nitrite", "fault", "9:6-20")]),
        ("1 oz saltpetre", "saltpetre", [("nitrate-over-limit", "fault", "9:1-5")]),
        ("5 g saltpetre", "saltpetre", []),
    ],
)
def test_kinds(line: str, name: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(with_cure(line, name=name)) == wanted


def test_a_ready_mix_of_unknown_strength_is_asked_for_once() -> None:
    """0.4 to 0.9 % nitrite on 5 lb crosses 200 ppm; the strength is the one answer that settles it."""
    text = changed(LOIN, ("5.5 g cure #1 (6.25 % nitrite)", "2 oz ready-mix cure"), ("55 g kosher salt\n", ""))
    assert said(text) == [("curing-salt-kind-not-named", "query", "5:6-20")]
    assert said(text, House(strengths={"ready-mix": {"nitrite": 0.5, "nitrate": 0.5}})) == []


# 9 CFR 424.22(b): no nitrate in bacon by any method; bacon of loin is not that class.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(BACON, ("5.5 g cure #1 (6.25 % nitrite)", "5.5 g cure #2")), [("nitrate-in-bacon", "certain hazard", "6:7-14")]),
        (changed(BACON, ("5.5 g cure #1 (6.25 % nitrite)", "1 oz ready-mix cure (0.5 % nitrite, 0.5 % nitrate)"), ("55 g", "30 g")), [(LITTLE, "query", "6:1-5"), ("nitrate-in-bacon", "certain hazard", "6:6-20")]),
        (changed(LOIN, ("5.5 g cure #1 (6.25 % nitrite)", "5.5 g cure #2")), [("nitrate-in-a-short-cure", "fault", "6:7-14")]),
    ],
)
def test_nitrate_in_bacon(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(text) == wanted


# Limits: 120 (Regulation (EU) 2023/2108), 150 (SI 2007/1778), 120 for side bacon (Canada), 200 dry-cured belly (9 CFR 424.22(b)).
@pytest.mark.printed
@pytest.mark.parametrize(
    ("house", "wanted"),
    [(House(law="us"), []), (House(law="uk"), ["certain hazard"]), (House(law="eu"), ["hazard"]), (House(law="ca"), ["hazard"])], ids=["us", "uk", "eu", "ca"],
)  # fmt: skip
def test_other_law_has_other_limits(house: House, wanted: list[str]) -> None:
    """5.5 g × 6.25 % ÷ 2,268 g is 151.6 ppm. What facts/limits.tsv has at second hand is possible at most."""
    assert [grade for _, grade, _ in said(BACON, house)] == wanted


def test_no_least_under_a_law_whose_limit_is_lower() -> None:
    """Under the EU's 120 the everyday least of 120 would leave nothing to weigh."""
    text = with_cure("14 g cure #1 (6.25 % nitrite)")
    assert [rule for rule, _, _ in said(text, House(law="eu"))] == []
    assert [rule for rule, _, _ in said(text, House(law="ca"))] == []  # 106 ppm: Canada's least is 100


NOT_STIRRED = changed(CORNED, (f"{CURE}\n", ""), (" Stir in the cure #1.", ""))
UNCURED = changed(BACON, ("5.5 g cure #1 (6.25 % nitrite)\n", ""), ("Mix the cure and rub it", "Rub the salt"))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (NOT_STIRRED, [("no-curing-salt", "query", "9:22-22")]),
        (changed(NOT_STIRRED, ("Makes 24 plates", "No curing salt in it, on purpose.")), []),
        (changed(UNCURED, ("Smoke at 180 F until 150 F inside, and hold there 5 minutes", "Smoke at 80 F for 12 hours")), [("no-curing-salt", "hazard", "5:17-17")]),
        (changed(UNCURED, ("Smoke at 180 F until 150 F inside, and hold there 5 minutes", "Cold smoke for 12 hours")), [("no-curing-salt", "hazard", "5:17-17")]),
        (changed(TURKEY, ("Rest 20 minutes", "Never cold smoke it. Rest 20 minutes")), []),
    ],
    ids=["forgotten", "on purpose", "cold by its figure", "cold by its words", "cold smoke forbidden"],
)
def test_no_curing_salt(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert [one for one in said(text) if one[0] == "no-curing-salt"] == wanted


def test_curing_salt_that_only_the_method_names_is_asked_for_by_name() -> None:
    found = one(changed(CORNED, (f"{CURE}\n", "")), "no-curing-salt")
    assert found.message == "The page speaks of cure #1 on line 12, and gives no amount of it: how much goes in cannot be worked."


def test_the_remedy_is_worked_again_and_settles_it() -> None:
    """Half way from 120 to 200 is 160 ppm: 160 × 8,277.9 g ÷ (62,500 − 160) = 21.2 g of 6.25 % cure."""
    text = with_cure("200 g cure #1 (6.25 % nitrite)")
    found = one(text, OVER)
    assert found.remedy is not None
    assert found.remedy.text == "Weigh 21.2 g of cure #1: worked again, 160 ppm in this batch."
    assert said(edited(text, found)) == []


@pytest.mark.parametrize(
    "text", [changed(STICKS, ("1 oz cure", "10 oz cure")), changed(HAM, ("26 g", "40 g")), changed(LOIN, ("5.5 g", "11 g")), changed(BACON, ("Skinless", "Skin-on"), ("5.5 g", "7 g")), with_cure("4 g cure #1 (6.25 % nitrite)")],
)  # fmt: skip
def test_every_edit_settles_what_it_is_for(text: str) -> None:
    (found,) = findings_of(text)
    assert found.remedy is not None
    assert found.remedy.edits
    assert said(edited(text, found)) == []


def test_a_remedy_never_adds_curing_salt_to_too_much() -> None:
    """Between 200 and 625 the aim is under 200, not under 625."""
    found = one(changed(LOIN, ("5.5 g", "11 g")), OVER)
    assert found.remedy is not None
    assert [edit.new for edit in found.remedy.edits] == ["5.8 g"]


@pytest.mark.parametrize("line", ["8 oz cure #1 (6.25 % nitrite) per gallon", "8 oz (227 g) cure #1 (6.25 % nitrite)"])
def test_no_edit_where_a_weight_would_not_fit_the_line(line: str) -> None:
    found = one(with_cure(line), OVER)
    assert found.remedy is not None
    assert found.remedy.edits == ()


def test_bacon_with_nitrate_is_told_to_weigh_number_one() -> None:
    found = one(changed(BACON, ("5.5 g cure #1 (6.25 % nitrite)", "20 g cure #2"), ("55 g", "40 g")), OVER)
    assert found.remedy is not None
    assert found.remedy.text.startswith("Weigh 5.8 g of cure #1 (6.25 % nitrite)")
    (change,) = found.remedy.edits
    assert change.new == "5.8 g cure #1 (6.25 % nitrite)"


def test_the_other_sums_are_shown_beside_the_one_that_decides() -> None:
    """All three for a soaked cure; the pick-up sum with a published gain is marked as not judged by."""
    (found,) = says(curing_salt_over_limit.RULE, case_with(ppm("nitrite_equilibrium", 500, 500, 500), ppm("nitrite_pick_up", 20, 60, 90), ppm("nitrite_estimate", 200, 300, 400)))
    assert found.message == (
        "500 ppm nitrite by the sum that takes meat and pickle as one system, 2.5 times the limit. The limit is 200 ppm for whole muscle in brine (9 CFR 424.21(c))."
        " By the pick-up sum, shown and not judged by: 20 to 90 ppm (likely 60). By diffusion over the stated days: 200 to 400 ppm (likely 300)."
    )
    (found,) = says(curing_salt_over_limit.RULE, case_with(ppm("nitrite_equilibrium", 500, 500, 500), ppm("nitrite_pick_up", 60, 60, 60, gain_stated=True), ppm("nitrite_estimate", 1, 1, 1)))
    assert "By the pick-up sum: 60 ppm." in found.message


@pytest.mark.parametrize(
    ("value", "grade", "certain"), [((690, 700, 710), None, False), ((710, 720, 730), "query", False), ((1500, 1500, 1500), "fault", False), ((7000, 7100, 7200), "hazard", False)],
)  # fmt: skip
def test_nitrate_stands_one_grade_lower(value: tuple[float, float, float], grade: str | None, certain: bool) -> None:
    found = says(nitrate_over_limit.RULE, case_with(ppm("nitrate_equilibrium", *value), role="nitrate"))
    assert [(one.grade, one.certain) for one in found] == ([(grade, certain)] if grade is not None else [])


def test_nitrite_in_fish_is_asked_once_and_not_judged() -> None:
    text = changed(TURKEY, ("Roast turkey breast in white brine", "Smoked trout"), ("1 bone-in turkey breast, 6 lb", "6 lb trout fillets"), ("3 oz sugar", "3 oz sugar\n60 g cure #1\n30 g saltpetre"))
    assert [rule for rule, _, _ in said(text) if "cur" in rule or "nitr" in rule] == ["fish-cure-not-judged"]


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("30 g celery powder", [("vegetable-cure-of-unknown-strength", "query", "9:6-19")]), ("2 tbsp celery juice", [("vegetable-cure-of-unknown-strength", "query", "9:8-20")]),
        ("2 stalks celery", [("no-curing-salt", "query", "10:22-22")]), ("1 tsp celery seed", [("no-curing-salt", "query", "10:22-22")]),
    ],
)  # fmt: skip
def test_a_vegetable_cure_is_asked_about_and_celery_is_none(line: str, wanted: list[tuple[str, str, str]]) -> None:
    text = changed(CORNED, (CURE, line), (" Stir in the cure #1.", ""))
    assert [one for one in said(text) if one[0] in ("vegetable-cure-of-unknown-strength", "no-curing-salt")] == wanted
