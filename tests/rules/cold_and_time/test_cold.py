"""Where the cure stands, and how cold: stated, by a place, not at all, or with salt in its stead."""

from __future__ import annotations

import pytest

from overhaul.rules.texts import BACON, CORNED, TURKEY, changed
from tests.conftest import findings_of
from tests.rules.cases import edited, said

WARM, COLD_STALLS, NOT_STATED, SALT = "cured-too-warm", "cured-too-cold", "cure-temperature-not-stated", "salt-instead-of-cold"
COLD = "Refrigerate at 36 to 40 F for"


def kept(words: str, page: str = CORNED) -> list[tuple[str, str, str]]:
    return [one for one in said(changed(page, (COLD, words))) if one[0] in (WARM, COLD_STALLS, NOT_STATED, SALT)]


# Food Code 2022, 3-501.16(A)(2): 41 °F. The stall under 34 °F: HGIC 3603.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("Refrigerate at 34 F for", []),
        ("Refrigerate at 33 F for", [(COLD_STALLS, "fault", "15:19-23")]),
        ("Refrigerate at 33 to 38 F for", []),
        ("Refrigerate at 40 to 41 F for", []),
        ("Refrigerate at 5 °C for", []),
        ("Keep at 42 F for", [(WARM, "certain hazard", "15:12-16")]),
        ("Keep at 36 to 45 F for", [(WARM, "hazard", "15:12-22")]),
        ("Keep at 10 °C for", [(WARM, "certain hazard", "15:12-17")]),
        ("Keep on the counter for", [(WARM, "certain hazard", "15:9-23")]),
        ("Keep at room temperature for", [(WARM, "certain hazard", "15:9-28")]),
        ("Keep in the cellar for", [(WARM, "fault", "15:16-22")]),
        ("Keep in a cool place for", [(WARM, "fault", "15:14-24")]),
        ("Keep in the garage for", [(WARM, "fault", "15:16-22")]),
        ("Keep in the garage at 38 F for", []),
        ("Keep in the walk-in for", []),
        ("Refrigerate for", []),
        ("Leave it for", [(NOT_STATED, "query", "15:50-50")]),
    ],
)
def test_where_it_stands(words: str, wanted: list[tuple[str, str, str]]) -> None:
    assert kept(words) == wanted


# Farmers' Bulletin 2265: a dry-cure room of 36 to 42 °F.
@pytest.mark.printed
@pytest.mark.parametrize(("words", "wanted"), [("Keep at 42 F for", [(WARM, "fault", "9:12-16")]), ("Keep at 43 F for", [(WARM, "certain hazard", "9:12-16")])])
def test_a_dry_cure_has_a_degree_more(words: str, wanted: list[tuple[str, str, str]]) -> None:
    text = changed(BACON, ("Refrigerate at 38 F for", words))
    assert [one for one in said(text) if one[0] == WARM] == wanted


def test_a_ham_that_evens_out_at_fifty_five_is_not_cured_there() -> None:
    text = """\
Farm ham

1 fresh ham, 15 lb
12 oz kosher salt
4 oz sugar
25 g cure #1 (6.25 % nitrite)

1. Rub a third of the salt, sugar and cure into the ham, put it on a rack.
2. Rub again on day 3 and day 10. Cure it 45 days in the refrigerator, turning it each week.
3. Wash it. Equalize at 55 F for 14 days.
"""
    assert [one for one in said(text) if one[0] == WARM] == []


# Two hours out of the cold, as the FSIS says of raw meat.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("where", "wanted"),
    [
        ("and leave on the counter for 1 hour", []),
        ("and leave on the counter for 2 hours", []),
        ("and leave on the counter for 6 hours", [(WARM, "certain hazard", "9:61-75")]),
        ("and leave at room temperature", [(WARM, "hazard", "9:61-80")]),  # how long is not said
        ("and leave it for 1 hour", []),
        ("and leave it for 14 hours", [(NOT_STATED, "query", "9:77-77")]),
    ],
)
def test_a_plain_brine_by_the_hour(where: str, wanted: list[tuple[str, str, str]]) -> None:
    text = changed(TURKEY, ("and refrigerate at 38 F for 14 hours", where))
    assert [one for one in said(text) if one[0] in (WARM, NOT_STATED)] == wanted


def test_the_missing_line_is_added_in_the_scale_of_the_page() -> None:
    text = changed(CORNED, (COLD, "Leave it for"))
    (found,) = [one for one in findings_of(text) if one.rule == NOT_STATED]
    assert "\nRefrigerate at 36 to 40 F.\n" in edited(text, found)
    metric = "Corned brisket\n\n1 brisket flat, 3 kg, 4 cm thick\n3 kg cold water\n200 g salt\n15 g cure #1 (6.25 % nitrite)\n\nChill the brine to 3 °C. Submerge the flat under a plate.\nLeave it 10 days, turning daily.\nSimmer 3 hours to 90 °C inside. Rest 20 minutes and slice.\n"
    (found,) = [one for one in findings_of(metric) if one.rule == NOT_STATED]
    assert "the limit is 5 °C (41 °F) by Food Code 2022, 3-501.16(A)(2)" in found.message
    mended = edited(metric, found)
    assert "\nRefrigerate at 2 to 4 °C.\n" in mended
    assert [one for one in said(mended) if one[0] == NOT_STATED] == []


def test_the_temperature_is_put_right_where_it_stands() -> None:
    text = changed(CORNED, (COLD, "Keep at 50 F for"))
    (found,) = [one for one in findings_of(text) if one.rule == WARM]
    assert [rule for rule, _, _ in said(edited(text, found))] == []


@pytest.mark.parametrize(
    "sentence",
    [
        "In hot weather use more salt.",
        "If it cannot be kept cold, add more salt.",
        "Where it can't be kept so cold, raise the salt by a third.",
        "Use half as much more salt in summer.",
        "Increase the salt by a quarter for each 10 degrees it is warmer.",
        "For warm weather take an extra handful: more salt, and strong.",
        "No fridge? A third more salt does it.",
        "If the cooler dies, salt it heavier.",
    ],
)
def test_salt_in_place_of_cold(sentence: str) -> None:
    found = [grade for rule, grade, _ in said(changed(CORNED, ("turning every other day.", f"turning every other day. {sentence}"))) if rule == SALT]
    assert found == ["certain hazard"]


@pytest.mark.parametrize(
    "sentence",
    [
        "Add the salt to warm water and stir.",
        "Use kosher salt; the water may be warm.",
        "Add salt and sugar to 1 quart of warm water.",
        "Never add more salt because the weather is warm.",
        "Do not use more salt to make up for warm weather.",
        "More salt in summer does not make up for a warm cooler.",
        "Raise the salt to 12 oz if you like it salty.",
        "It cannot be kept cold enough on a porch, and more salt is no help.",
    ],
)
def test_salt_for_taste_and_warnings_are_silent(sentence: str) -> None:
    text = changed(CORNED, ("1. Stir the salt", f"1. {sentence} Stir the salt"))
    assert [one for one in said(text) if one[0] == SALT] == []
