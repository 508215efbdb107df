"""End points against the tables: by product, with a hold, a rest, or neither."""

from __future__ import annotations

import pytest

from overhaul.rules.texts import BACON, CORNED, PASTRAMI, TURKEY, changed
from tests.conftest import findings_of
from tests.rules.cases import edited, said

LOW, MISSING = "final-temperature-low", "final-temperature-missing"
FINISH = "7. Smoke at 250 F until 165 F inside.\n8. Steam, covered, 2 hours, to 203 F inside.\n9. Rest 30 minutes before slicing."

LINKS = """\
Smoked links

5 lb ground pork
45 g kosher salt
5.6 g cure #1 (6.25 % nitrite)

Mix the meat, salt and cure and stuff into casings. Refrigerate overnight at 38 F.
Smoke at 170 F until 155 F inside.
Cool from 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 4 days at 38 F.
"""

TROUT = """\
Hot-smoked trout

2 lb trout fillets
1 quart cold water
3 oz sea salt

Stir the salt into the cold water and chill to 38 F. Refrigerate the fillets in it for 8 hours under a plate. Rinse, dry on a rack.
Smoke at 225 F until 150 F inside.
"""

PUMPED = """\
Pumped ham

1 boneless ham, 10 lb
1 quart cold water
5 oz kosher salt
3 oz sugar
26 g cure #1 (6.25 % nitrite)

1. Stir salt, sugar and cure into the cold water. Chill to 38 F.
2. Pump the ham to 10 %. Cover and refrigerate at 38 F for 2 days.
3. Smoke at 225 F until 145 F inside.
4. Rest 1 minute and slice.
"""


def low(text: str) -> list[str]:
    return [grade for rule, grade, _ in said(text) if rule == LOW]


def missing(text: str) -> list[tuple[str, str]]:
    return [(grade, place) for rule, grade, place in said(text) if rule == MISSING]


# FSIS chart: poultry 165 °F. Revised Appendix A (2021), Table 3, chicken at 12 % fat: 150 °F 4.2 min, 163 °F at once; Table 4,
# turkey: 150 °F 4.9 min, 164 °F 11.7 s, 165 °F at once; first row 136 °F. Page 39: 160 °F at once, 155 °F cured and smoked.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("bird", "point", "wanted"),
    [
        ("turkey", "165 F", []),
        ("turkey", "164 F", ["fault"]),
        ("turkey", "160 F", ["fault"]),
        ("turkey", "159 F", ["hazard"]),
        ("turkey", "160 to 165 F", ["fault"]),
        ("turkey", "150 F", ["hazard"]),
        ("turkey", "135 F", ["certain hazard"]),
        ("turkey", "74 °C", []),
        ("chicken", "163 F", []),
        ("chicken", "162 F", ["fault"]),
        ("chicken", "150 F", ["hazard"]),
    ],
)
def test_poultry(bird: str, point: str, wanted: list[str]) -> None:
    text = TURKEY.replace("turkey", bird).replace("165 F", point)
    assert low(text) == wanted


@pytest.mark.printed
@pytest.mark.parametrize(
    ("bird", "hold", "wanted"),
    [
        ("turkey", "150 F inside and hold it there 5 minutes", []),
        ("turkey", "150 F inside and hold it there 4 minutes", ["certain hazard"]),
        ("turkey", "150 F inside and hold it there 4 to 6 minutes", ["hazard"]),
        ("chicken", "150 F inside and hold it there 5 minutes", []),
        ("chicken", "155 F inside and hold it there 1 minute", []),
    ],
)
def test_poultry_with_a_hold(bird: str, hold: str, wanted: list[str]) -> None:
    assert low(TURKEY.replace("turkey", bird).replace("165 F inside", hold)) == wanted


@pytest.mark.printed
def test_cured_and_smoked_poultry_has_the_older_end_point() -> None:
    text = PASTRAMI.replace("1 brisket flat, 7 lb, 1 1/2 in. thick, no fat cap", "1 turkey breast, 7 lb, boneless").replace("the flat", "the breast")
    assert low(changed(text, (FINISH, "7. Smoke at 250 F until 155 F inside.\n9. Rest 30 minutes before slicing."))) == ["fault"]
    assert low(changed(text, (FINISH, "7. Smoke at 250 F until 154 F inside.\n9. Rest 30 minutes before slicing."))) == ["hazard"]


# FSIS chart: 145 °F and 3 minutes of rest. Revised Appendix A (2021), Table 2, 6.5 log: 130 °F 112 min, 140 °F 12 min, 144 °F 5 min,
# 158 °F at once; below 130 °F no credit.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("finish", "wanted"),
    [
        ("until 145 F inside.\n9. Rest 30 minutes before slicing.", []),
        ("until 145 F inside.\n9. Rest 3 minutes before slicing.", []),
        ("until 145 F inside.\n9. Rest 1 minute before slicing.", ["fault"]),
        ("until 158 F inside.\n9. Rest 1 minute before slicing.", []),
        ("until 145 F inside.\n9. Slice.", []),  # rest-missing asks
        ("until 140 F inside.\n9. Slice.", ["hazard"]),
        ("until 140 F inside.\n9. Rest 5 minutes before slicing.", ["hazard"]),
        ("until 140 F inside.\n9. Rest 30 minutes before slicing.", ["query"]),
        ("until 140 F inside and hold there 12 minutes.\n9. Rest 30 minutes before slicing.", []),
        ("until 140 F inside and hold there 11 minutes.\n9. Rest 30 minutes before slicing.", ["certain hazard"]),
        ("until 140 to 150 F inside.\n9. Slice.", ["hazard"]),
        ("until 129 F inside.\n9. Rest 30 minutes before slicing.", ["certain hazard"]),
        ("until 125 to 135 F inside.\n9. Rest 30 minutes before slicing.", ["hazard"]),
    ],
)
def test_whole_cuts(finish: str, wanted: list[str]) -> None:
    assert low(changed(PASTRAMI, (FINISH, f"7. Smoke at 250 F {finish}"))) == wanted


# Food Code 2022, 3-401.11(A)(2): injected meat 145 °F for 3 minutes.
@pytest.mark.printed
@pytest.mark.parametrize(("rest", "wanted"), [("Rest 1 minute", ["certain hazard"]), ("Rest 3 minutes", []), ("Rest 20 minutes", [])])
def test_pumped_meat(rest: str, wanted: list[str]) -> None:
    assert low(PUMPED.replace("Rest 1 minute", rest)) == wanted


# FSIS chart: ground meat 160 °F. Food Code 2022, 3-401.11(A)(2): 158 °F at once, 155 °F 17 s, 150 °F 1 min, 145 °F 3 min.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("point", "wanted"),
    [
        ("160 F inside", []),
        ("158 F inside", []),
        ("155 F inside", ["query"]),
        ("145 F inside", ["hazard"]),
        ("125 F inside", ["certain hazard"]),
        ("155 F inside and hold there 1 minute", []),
        ("150 F inside and hold there 1 minute", []),
        ("145 F inside and hold there 2 minutes", ["certain hazard"]),
        ("145 F inside and hold there 3 minutes", []),
    ],
)
def test_ground_meat(point: str, wanted: list[str]) -> None:
    assert low(LINKS.replace("155 F inside", point)) == wanted


# Food Code 2022, 3-401.11(A)(1): fish 145 °F.
@pytest.mark.printed
@pytest.mark.parametrize(("point", "wanted"), [("150 F", []), ("145 F", []), ("140 to 145 F", []), ("140 F", ["fault"]), ("120 F", ["fault"])])
def test_fish_is_not_held_to_the_tables_for_meat(point: str, wanted: list[str]) -> None:
    assert low(TROUT.replace("150 F", point)) == wanted


@pytest.mark.parametrize(
    "text",
    [
        changed(BACON, ("until 150 F inside, and hold there 5 minutes", "until 128 F inside")),  # to be fried
        changed(BACON, (" until 150 F inside, and hold there 5 minutes", " for 4 hours")),
        changed(CORNED, ("Simmer in fresh water 3 1/2 hours, until 195 F inside.", "Simmer in fresh water 3 1/2 hours.")),
        changed(CORNED, ("Simmer in fresh water 3 1/2 hours, until 195 F inside.", "Simmer in fresh water 90 minutes.")),
        changed(CORNED, ("Simmer in fresh water 3 1/2 hours, until 195 F inside.", "Simmer in fresh water until fork tender.")),
    ],
    ids=["raw bacon", "raw bacon by the clock", "simmered by the hour", "simmered by the minute", "simmered until tender"],
)
def test_nothing_to_say_of_the_end_point(text: str) -> None:
    assert low(text) == []
    assert missing(text) == []


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(TURKEY, (" until 165 F inside", " for 2 hours")), [("query", "10:39-39")]),
        (changed(CORNED, ("Simmer in fresh water 3 1/2 hours, until 195 F inside.", "Simmer in fresh water until done.")), [("query", "17:37-37")]),
        (changed(BACON, (" until 150 F inside, and hold there 5 minutes", " for 4 hours"), (" Fry before eating.", "")), [("query", "11:31-31")]),
        (changed(PASTRAMI, (FINISH, "7. Smoke at 80 F for 12 hours.")), []),  # cold smoke
    ],
    ids=["by the clock", "until done", "bacon that nobody fries", "cold smoke"],
)
def test_no_end_point(text: str, wanted: list[tuple[str, str]]) -> None:
    assert missing(text) == wanted


def test_bacon_is_asked_whether_it_is_fried() -> None:
    (found,) = [one for one in findings_of(changed(BACON, (" until 150 F inside, and hold there 5 minutes", " for 4 hours"), (" Fry before eating.", ""))) if one.rule == MISSING]
    assert found.message.endswith("Is it eaten as it is, or fried first?")
    assert found.remedy is not None
    assert found.remedy.edits == ()


def test_hams_hung_in_smoke_for_weeks_have_no_end_point() -> None:
    text = "Farm hams\n\n1 fresh ham, 15 lb\n12 oz kosher salt\n2 oz saltpetre\n\nRub the salt and saltpetre into the ham. Keep it six weeks in the refrigerator, turning it.\nHang in the smokehouse and smoke for six weeks.\n"
    assert missing(text) == []
    assert [rule for rule, _, _ in said(text) if rule == "smoke-temperature-missing"] == []


@pytest.mark.parametrize(
    "text",
    [changed(TURKEY, ("until 165 F inside", "until 150 F inside")), changed(TURKEY, (" until 165 F inside", " for 2 hours"))],
    ids=["low", "missing"],
)
def test_the_remedy_settles_it(text: str) -> None:
    (found,) = [one for one in findings_of(text) if one.rule in (LOW, MISSING)]
    assert "165 F" in edited(text, found)
    assert said(edited(text, found)) == []


def test_the_message_speaks_the_scale_of_the_page() -> None:
    metric = "Roast loin\n\n1 pork loin, 2 kg\n30 g salt\n\nRub the salt over the loin and refrigerate at 3 °C for 18 hours.\nRoast at 180 °C until 60 °C inside.\nSlice.\n"
    (found,) = [one for one in findings_of(metric) if one.rule == LOW]
    assert found.message == (
        "60 °C (140 °F) inside: the limit for whole cuts is 63 °C (145 °F) by the FSIS temperature chart; lower counts when it is held there, "
        "12 minutes at this temperature (FSIS Appendix A of 2021), and the page gives no hold."
    )
    assert "until 63 °C inside" in edited(metric, found)


def test_a_ham_bought_cooked_is_only_heated() -> None:
    text = "Glazed ham\n\n6 kg bone-in leg ham, fully cooked and smoked\n1/2 cup honey\n\nBrush with the honey and bake at 170 C for 2 hours, until 60 C in the middle. Rest 20 minutes.\n"
    assert [one.rule for one in findings_of(text) if one.rule in ("no-curing-salt", "final-temperature-low", "final-temperature-missing")] == []
