"""References between the files of a binder of our own: what is said, where, in which words, and by whom it does not depend."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct

from overhaul import binder, recipe_file
from overhaul.cross_references import followed
from overhaul.findings import Grade
from overhaul.house import House
from overhaul.kept import Held, Kept, keep
from overhaul.pipeline import Audited
from overhaul.rules.across import RULES
from overhaul.rules.texts import CORNED, changed
from tests.conftest import where

OURS = {rule.name for rule in RULES}
PICKLING = "Pickling spice\n\n20 g mustard seed\n10 g black peppercorns\n\n1. Toast the seeds.\n2. Crush them, and mix.\n"
TONGUE = "Corned tongue\n\n2 beef tongues, 6 lb\n10 oz kosher salt\n\n1. {}\n2. Put the tongues in, 10 days.\n3. Simmer until tender.\n"


class Shelf(Struct):
    files: list[Audited]

    def said(self, name: str | None = None) -> list[tuple[str, str, str, str]]:
        """File, rule, place and message of what the pass found."""
        return [(one.file, each.rule, where(each, one.page), each.message) for one in self.files for each in one.findings if one.page is not None and each.rule in OURS and name in (None, one.file)]


def texts_of(text: str) -> dict[str, str]:
    """The files of a text of several."""
    parts = re.split(r"^=== (.+) ===\n", text, flags=re.MULTILINE)[1:]
    return dict(zip(parts[::2], parts[1::2], strict=True))


def audits(texts: dict[str, str]) -> list[Kept]:
    return [keep(recipe_file.audit(text.encode(), name, House())) for name, text in texts.items()]


def shelf(**texts: str) -> Shelf:
    """A binder of these files in this order; a name without a suffix is a text."""
    return Shelf(list(Held(followed(audits({name if "." in name else f"{name}.txt": text for name, text in texts.items()})))))


def test_a_page_that_is_not_there() -> None:
    made = shelf(tongue=TONGUE.format("Slaw: see p. 99."), p41=PICKLING)
    assert made.said() == [("tongue.txt", "page-not-in-binder", "6:14-19", "Line 6 sends the cook to page 99; there is no page 99 among the 2 recipes audited. Is it missing from the binder, or is another meant?")]


def test_files_that_could_not_be_read_are_told_of() -> None:
    made = shelf(tongue=TONGUE.format("Slaw: see card 9."), p41=PICKLING, torn="")
    assert [message for *_, message in made.said()] == ["Line 6 sends the cook to card 9; there is no card 9 among the 2 recipes audited (1 file could not be read). Is it missing from the binder, or is another meant?"]


@pytest.mark.parametrize("file", ["p41.txt", "P.41 spice.md", "page-041.txt", "041 pickling spice.txt", "41.txt", "spice_pg41.txt"])
def test_a_file_name_bears_the_number(file: str) -> None:
    assert shelf(**{"tongue.txt": TONGUE.format("Stir in the mix (see p. 41)."), file: PICKLING.replace("Pickling spice", "Seeds")}).said() == []


@pytest.mark.parametrize("file", ["p411.txt", "card-41.md", "2041-12-03 spice.txt", "spice 41.txt", "top41.txt"])
def test_a_file_name_that_does_not(file: str) -> None:
    said = shelf(**{"tongue.txt": TONGUE.format("Stir in the mix (see p. 41)."), file: PICKLING.replace("Pickling spice", "Seeds")}).said()
    assert len(said) == (0 if file == "card-41.md" else 1)  # a card of that number may be what is meant


@pytest.mark.parametrize("head", ["Seeds   p. 41\n", "p. 41: Seeds\n", "PAGE 41\nSeeds\n", "Seeds\n(page 41)\n"])
def test_a_page_bears_its_number(head: str) -> None:
    assert shelf(tongue=TONGUE.format("Stir in the mix (see p. 41)."), seeds=PICKLING.replace("Pickling spice\n", head)).said() == []


@pytest.mark.parametrize("title", ["Pickling spice #3", "Our pickling spices no. 3", "PICKLING SPICE 3 recipe", "Pikling spyce #3"])
def test_a_page_without_a_number_is_known_by_its_name(title: str) -> None:
    assert shelf(tongue=TONGUE.format("Stir in 1 recipe Pickling Spice #3 (see p. 41)."), spice=PICKLING.replace("Pickling spice", title)).said() == []


def test_another_number_of_that_name_is_another() -> None:
    assert [rule for _, rule, *_ in shelf(tongue=TONGUE.format("Stir in 1 recipe Pickling Spice #3 (see p. 41)."), spice=PICKLING.replace("Pickling spice", "Pickling spice #1")).said()] == ["page-not-in-binder"]


def test_the_name_of_a_page_with_another_number_is_offered() -> None:
    (said,) = shelf(tongue=TONGUE.format("Stir in the pickling spice (see p. 14)."), p41=PICKLING).said()
    assert said[3] == "Line 6 sends the cook to page 14; there is no page 14 among the 2 recipes audited. “Pickling spice” is page 41 (p41.txt). Is that the one?"


def test_a_name_alone_is_never_missing() -> None:
    assert shelf(tongue=TONGUE.format("Make one batch of our corned beef brine, see the chef."), other=PICKLING).said() == []


@pytest.mark.parametrize("name", ["c.b.", "corned beef", "the Corned Beef", "cornd beef", "corned beeff"])
def test_a_name_and_a_step_that_are_there(name: str) -> None:
    corned = CORNED.replace("Corned brisket, the house way", "Corned beef")
    assert shelf(tongue=TONGUE.format(f"Same as {name} thru step 4."), corned=corned).said() == []
    (said,) = shelf(tongue=TONGUE.format(f"Same as {name} thru step 14."), corned=corned).said()
    assert said[1] == "step-not-on-that-page"
    assert said[3] == "Line 6 sends the cook to step 14 of “Corned beef” (corned.txt), and the last step there is 9. Is a step missing there, or is another meant?"


def test_a_name_with_a_step_that_nothing_is_like() -> None:
    (said,) = shelf(tongue=TONGUE.format("Same as smoked loin thru step 4."), other=PICKLING).said()
    assert said[1:] == ("page-not-in-binder", "6:4-35", "Line 6 sends the cook to “smoked loin”; there is no recipe of that name among the 2 recipes audited. Is it missing from the binder, or is another meant?")
    assert shelf(tongue=TONGUE.format("Same as smoked loin thru step 4."), other=PICKLING.replace("Pickling spice", "Smoked pork loin with juniper")).said() == []


def test_two_files_of_one_number_unless_the_line_names_one() -> None:
    rub = PICKLING.replace("Pickling spice", "Coriander rub   p. 41")
    (said,) = shelf(tongue=TONGUE.format("Stir in the mix (see p. 41)."), p41=PICKLING, rub=rub).said()
    assert said == ("tongue.txt", "two-pages-of-one-number", "6:25-30", "Line 6 sends the cook to page 41, and 2 files bear that number: p41.txt (“Pickling spice”) and rub.txt (“Coriander rub”). Which is meant?")
    assert shelf(tongue=TONGUE.format("Stir in the coriander rub (see p. 41)."), p41=PICKLING, rub=rub).said() == []
    assert shelf(tongue=TONGUE, p41=PICKLING, rub=rub).said() == []


def test_of_many_files_of_one_number_three_are_named() -> None:
    (said,) = shelf(**{"tongue.txt": TONGUE.format("Stir in the mix (see p. 41)."), **{f"s{number} p41.txt": PICKLING.replace("spice", f"mix {number}") for number in range(5)}}).said()
    assert "and 5 files bear that number: s0 p41.txt (“Pickling mix 0”), s1 p41.txt (“Pickling mix 1”), s2 p41.txt (“Pickling mix 2”) and 2 more. Which is meant?" in said[3]


def test_folders_may_be_numbered_apart() -> None:
    line = TONGUE.format("Stir in the mix (see p. 41).")
    assert shelf(**{"beef/tongue.txt": line, "beef/p41.txt": PICKLING, "pork/p41.txt": PICKLING}).said() == []
    assert [rule for _, rule, *_ in shelf(**{"tongue.txt": line, "beef/p41.txt": PICKLING, "pork/p41.txt": PICKLING}).said()] == ["two-pages-of-one-number"]


def test_numbers_that_only_begin_a_file_name_are_no_rivals() -> None:
    assert shelf(**{"tongue.txt": TONGUE.format("Stir in the mix (see p. 3)."), "3 day ham.txt": PICKLING, "3 hour ribs.txt": PICKLING}).said() == []


def test_what_is_absent_here_may_stand_there() -> None:
    here = TONGUE.format("Make the brine: see p. 7.")
    corned = changed(CORNED, ("Corned brisket, the house way", "Corned beef   p. 7"))
    alone, together = (shelf(tongue=here).files[0], shelf(tongue=here, corned=corned).files[0])
    assert [(one.rule, one.place, one.grade) for one in alone.findings] == [(one.rule, one.place, one.grade) for one in together.findings]
    told = {one.rule: other.message.removeprefix(one.message) for one, other in zip(alone.findings, together.findings, strict=True)}
    assert told["no-curing-salt"] == " It may be on page 7 (corned.txt), where line 6 sends the cook."
    assert told["cure-temperature-not-stated"] == told["no-curing-salt"]


def test_a_step_that_is_named_is_as_far_as_the_other_page_answers() -> None:
    corned = changed(CORNED, ("Corned brisket, the house way", "Corned beef   p. 7"))
    for step, words in ((2, False), (4, True)):
        made = shelf(tongue=TONGUE.format(f"Same as corned beef thru step {step} (p. 7)."), corned=corned).files[0]
        (cold,) = [one for one in made.findings if one.rule == "cure-temperature-not-stated"]
        assert ("It may be on" in cold.message) is words


HAZARD = "Smoked loin\n\n1 pork loin, 4 lb\n4 oz salt\n\n1. Cure as on p. 7, 5 days in the refrigerator.\n2. Cold smoke at 75 F for 12 hours.\n"


def test_a_hazard_stays_as_it_is() -> None:
    alone = shelf(loin=HAZARD).files[0]
    together = shelf(loin=HAZARD, p07=CORNED).files[0]
    hazards = [one for one in alone.findings if one.grade is Grade.HAZARD]
    assert [one.rule for one in hazards if one.absent] == ["no-curing-salt"]
    assert [one for one in together.findings if one.grade is not Grade.QUERY] == [one for one in alone.findings if one.grade is not Grade.QUERY]


def test_a_sign_off_covers_it() -> None:
    page = TONGUE.format("Slaw: see p. 99.") + '\nSigned off: page-not-in-binder on "see p. 99", AB, 2024-01-02: it hangs on the wall\n'
    (one,) = [each for each in shelf(tongue=page, other=PICKLING).files[0].findings if each.rule in OURS]
    assert one.signed_off is not None
    assert (one.signed_off.by, one.signed_off.stale) == ("AB", False)


def test_several_recipes_of_a_file_find_each_other_and_are_told_apart() -> None:
    both = f"{CORNED}\n\n---\n\n{TONGUE.format('Same as corned brisket thru step 12; slaw: see p. 99.')}"
    made = shelf(both=both, other=PICKLING)
    found = [each for each in made.files[0].findings if each.rule in OURS]
    assert len(made.files[0].titles) == 2
    assert [one.recipe for one in found] == [(1, "Corned tongue")] * len(found)
    assert "page-not-in-binder" in [one.rule for one in found]


def test_a_sheet_of_the_same_document_is_no_missing_page() -> None:
    one = recipe_file.audit(TONGUE.format("Slaw: see p. 2.").encode(), "tongue.txt", House())
    assert one.page is not None
    one.page.pages = (1, 5, 9)
    made = Shelf(list(Held(followed([keep(one), *audits({"other.txt": PICKLING})]))))
    assert made.said() == []


def test_a_recipe_file_is_told_of_at_its_own_line() -> None:
    from overhaul import convert

    kept = convert(TONGUE.format("Slaw: see p. 99."), "yaml", name="tongue.txt")
    made = shelf(**{"tongue.yaml": kept, "other.txt": PICKLING})
    ((file, rule, place, message),) = made.said()
    line = next(number for number, words in enumerate(kept.splitlines(), 1) if "Slaw: see p. 99." in words and "text:" in words)
    assert (file, rule, message.split(";")[0]) == ("tongue.yaml", "page-not-in-binder", f"Line {place.split(':')[0]} sends the cook to page 99")
    assert "Slaw" in kept.splitlines()[int(place.split(":")[0]) - 1]
    assert line


# What must always hold.

_LINES = st.sampled_from(["Slaw: see p. 9.", "Brine: see card 2.", "Same as corned beef thru step 12 (p. 3).", "Make our pickling spice.", "Same as loin thru step 3.", "Stir.", "Rub as on p. 4."])
_NAMES = st.sampled_from(["p03", "p04", "card 2", "09 slaw", "a", "b", "deep/p04", "deep/c"])
_TITLES = st.sampled_from(["Corned beef", "Pickling spice", "Loin p. 4", "Slaw   p. 9", "Tongue"])
_BINDERS = st.dictionaries(_NAMES, st.tuples(_TITLES, _LINES), min_size=1, max_size=6)


def _texts(made: dict[str, tuple[str, str]]) -> dict[str, str]:
    return {f"{name}.txt": TONGUE.format(line).replace("Corned tongue", title) for name, (title, line) in made.items()}


@given(_BINDERS, st.randoms(use_true_random=False))
def test_the_order_of_the_files_changes_nothing(made: dict[str, tuple[str, str]], chance: random.Random) -> None:
    every = audits(_texts(made))
    other = list(every)
    chance.shuffle(other)
    first, second = ({one.file: [(each.rule, each.place) for each in one.findings] for one in Held(followed(given))} for given in (every, other))
    assert first == second


@given(_BINDERS)
def test_nothing_is_taken_away_and_only_queries_are_added(made: dict[str, tuple[str, str]]) -> None:
    every = audits(_texts(made))
    for alone, together in zip(Held(every), Held(followed(every)), strict=True):
        kept_on = [one for one in together.findings if one.rule not in OURS]
        assert [(one.rule, one.place, one.grade, one.certain, one.remedy) for one in kept_on] == [(one.rule, one.place, one.grade, one.certain, one.remedy) for one in alone.findings]
        assert all(new.message.startswith(old.message) for old, new in zip(alone.findings, kept_on, strict=True))
        assert {one.grade for one in together.findings if one.rule in OURS} <= {Grade.QUERY}


@given(_BINDERS.filter(lambda made: len(made) > 1))
def test_a_file_that_nothing_refers_to_changes_nothing_but_the_count(made: dict[str, tuple[str, str]]) -> None:
    every = audits(_texts(made))
    stranger = audits({"zz/ham glaze.txt": "Glaze of honey and mustard\n\n4 oz honey\n2 oz mustard\n\nWarm and stir.\n"})

    def told(given: list[Kept]) -> list[list[str]]:
        return [[re.sub(r"the \d+ recipes", "the recipes", each.message) for each in one.findings] for one in Held(followed(given))]

    assert told(every + stranger)[: len(every)] == told(every)


@given(_BINDERS)
def test_one_file_by_itself_is_as_it_was(made: dict[str, tuple[str, str]]) -> None:
    for one in audits(_texts(made)):
        assert followed([one]) == [one]


# The command.


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "binder"
    place.mkdir()
    for number in range(30):
        (place / f"{number:03} beef.txt").write_text(TONGUE.format("Stir.").replace("Corned tongue", f"Beef number {number}"))
    (place / "tongue.txt").write_text(TONGUE.format("Make the brine: see p. 207. Slaw: see p. 999."))
    (place / "p207.txt").write_text(CORNED)
    return place


@pytest.mark.parametrize("form", ["plain", "json", "sarif", "html"])
def test_every_form_has_it_and_workers_and_cache_do_not_change_it(form: str, folder: Path, overhaul: Callable[..., object], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    options = ("audit", ".", "--as", form, "--stop-at", "never")
    outputs = [overhaul(*options, *more).output for more in (("--no-cache", "--workers", "1"), ("--no-cache", "--workers", "2"), ("--workers", "2"), ())]  # type: ignore[attr-defined]
    assert outputs[0].count("page-not-in-binder") >= 1
    assert "It may be on page 207" in " ".join(outputs[0].split())
    assert len(set(outputs)) == 1


def test_an_executor_says_the_same(folder: Path) -> None:
    tasks = [(path, House()) for path in sorted(folder.iterdir())]
    with ThreadPoolExecutor(2) as pool:
        through = list(Held(followed(list(binder.audits(tasks, executor=pool)))))
    assert [one.findings for one in through] == [one.findings for one in Held(followed(list(binder.audits(tasks))))]


def test_one_file_of_the_folder_alone_says_nothing(folder: Path, overhaul: Callable[..., object]) -> None:
    done = overhaul("audit", folder / "tongue.txt", "--as", "json", "--stop-at", "never", "--no-cache")
    (one,) = json.loads(done.output)["files"]  # type: ignore[attr-defined]
    assert not OURS & {each["rule"] for each in one["findings"]}


def test_it_counts_as_a_query_for_the_exit_status_and_is_handed_over(folder: Path, overhaul: Callable[..., object]) -> None:
    (folder / "clean.txt").write_text(changed(CORNED, ("until clear.", "until clear (see p. 888).")))
    pair = (folder / "clean.txt", folder / "p207.txt", "--no-cache")
    assert overhaul("audit", *pair, "--stop-at", "query").exit_code == 1  # type: ignore[attr-defined]
    assert overhaul("audit", *pair, "--stop-at", "fault").exit_code == 0  # type: ignore[attr-defined]
    assert "page 888" in overhaul("audit", *pair, "--handoff", "--stop-at", "never").output  # type: ignore[attr-defined]


@pytest.mark.parametrize("form", ["plain", "json", "sarif", "html"])
def test_what_another_title_holds_acts_on_nothing(form: str, tmp_path: Path, overhaul: Callable[..., object]) -> None:
    """A title and a file name stand in a message about another page."""
    (tmp_path / "tongue.txt").write_text(TONGUE.format("Stir in the red <b>spice</b>\x1b[31m\u202e (see p. 9)."))
    (tmp_path / "p41 <i>.txt").write_text(PICKLING.replace("Pickling spice", "red <b>spice</b>\x1b[31m\u202e"))
    output = overhaul("audit", tmp_path, "--as", form, "--stop-at", "never", "--no-cache").output  # type: ignore[attr-defined]
    assert "Is that the one?" in " ".join(output.split())
    assert not {"\x1b", "\u202e"} & set(output)
    if form == "html":
        assert "<b>spice" not in output
        assert "p41 <i>" not in output


def test_no_house_sheet_is_said_to_settle_it(folder: Path, overhaul: Callable[..., object], tmp_path: Path) -> None:
    sheet = tmp_path / "asked.yaml"
    pair = [folder / "clean.txt", folder / "p207.txt"]
    pair[0].write_text(changed(CORNED, ("until clear.", "until clear (see p. 888).")))
    done = overhaul("audit", *pair, "--no-cache", "--stop-at", "never", "--out-house", sheet)
    assert "no answer of a house sheet settles any query here" in done.output  # type: ignore[attr-defined]
