"""Sign-offs: what one covers, and when it covers nothing any more."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from overhaul.cli import main
from overhaul.findings import Finding, SignOff
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.signing import sign_offs, stands
from overhaul.text import Page

CARD = """Corned flat

5 lb brisket flat, 1 3/4 in thick, trimmed
1 gal cold water, weighed: 8 lb 5 oz
8 oz salt
16 g cure no. 1 (6.25 % nitrite)

Stir until clear, chill to 38 F. Flat in, plate on top. Refrigerate at 38 F for 8 days, turning daily.
Rinse. Simmer 3 hours to 200 F inside. Slice.
"""


def signed(line: str, text: str = CARD) -> dict[str, SignOff | None]:
    found = audit_text(Page(f"{text}\n{line}\n", "card.txt"), House()).findings
    return {one.rule: one.signed_off for one in found}


def test_one_covers_its_rule_where_its_words_stand() -> None:
    assert signed("")["rest-missing"] is None
    covered = signed('Signed off: rest-missing on "to 200 F inside", KM, 2026-03-02: rests in the pot.')
    assert covered["rest-missing"] == SignOff("KM", "2026-03-02", "rests in the pot.")
    assert {rule for rule, sign in covered.items() if sign is not None} == {"rest-missing"}


@pytest.mark.parametrize(
    "line",
    [
        '**Signed off: rest-missing on "TO  200 F  inside", KM, 2026-03-02: rests in the pot.**', '- signed off: rest missing on "to 200 F inside", KM, 2026-03-02: rests in the pot.',
        "Signed off: rest-missing on “to 200 F inside”, KM, 2026-03-02: rests in the pot.", 'Signed-off: Rest-Missing on "to 200 F inside" , KM , 2026-03-02 : rests in the pot.',
    ],
)  # fmt: skip
def test_it_may_be_written_as_cooks_write(line: str) -> None:
    sign = signed(line)["rest-missing"]
    assert sign is not None
    assert (sign.by, sign.reason, sign.stale) == ("KM", "rests in the pot.", False)


def test_words_that_stand_elsewhere_do_not_cover() -> None:
    assert signed('Signed off: rest-missing on "8 oz salt", KM, 2026-03-02: no.')["rest-missing"] is None


def test_words_that_are_gone_make_it_stale() -> None:
    found = signed('Signed off: rest-missing on "to 195 F inside", KM, 2026-03-02: rests in the pot.')
    assert found["rest-missing"] == SignOff("KM", "2026-03-02", "rests in the pot.", stale=True)
    assert "sign-off-stale" in found


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("Signed off: all good, KM", "it must read"), ('Signed off: rest-missing on "x", KM: no date', "it must read"), ('Signed off: rest-missing on "x", KM, 2026-02-30: why', "there is no day 2026-02-30"),
        ('Signed off: rest-missing on "x", KM, 2026-02-03:', "it must read"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_says_why(line: str, why: str) -> None:
    _, unread = sign_offs(Page(f"Card\n\n{line}\n"))
    assert [one.why.startswith(why) for one in unread] == [True]
    assert "sign-off-not-read" in signed(line)


def test_a_name_that_is_no_rule_is_asked_after() -> None:
    found = audit_text(Page(CARD + '\nSigned off: rest-mising on "to 200 F inside", KM, 2026-03-02: yes.\n', "card.txt"), House()).findings
    (query,) = (one for one in found if one.rule == "sign-off-not-read")
    assert query.message.endswith("Is “rest-missing” meant?")


@given(st.text(max_size=80))
def test_any_line_is_read_or_said_to_be_unread(rest: str) -> None:
    page = Page(f"Card\n\nSigned off: {rest}")
    signs, unread = sign_offs(page)
    assert len(signs) + len(unread) >= 1
    assert all(isinstance(stands(page, one), bool) for one in signs)


def test_a_certain_hazard_stays_counted(tmp_path: Path) -> None:
    card = tmp_path / "card.txt"
    card.write_text(CARD.replace("16 g cure", "16 oz cure") + '\nSigned off: curing-salt-over-limit on "16 oz cure", KM, 2026-03-02: always done it.\n', "utf-8")
    result = CliRunner().invoke(main, ["audit", str(card)])
    assert result.exit_code == 1
    assert "Signed off by KM, 2026-03-02: always done it." in result.output


def test_a_query_that_is_signed_off_stops_nothing(tmp_path: Path) -> None:
    card = tmp_path / "card.txt"
    card.write_text(CARD.replace(" Slice.", " Cool from 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 4 days at 38 F.") + "\n", "utf-8")
    names = [one.rule for one in audit_text(Page(card.read_text("utf-8")), House()).findings]
    sure = "".join(f'Signed off: {one.rule} on "{_words(one, card.read_text("utf-8"))}", KM, 2026-03-02: asked.\n' for one in audit_text(Page(card.read_text("utf-8")), House()).findings)
    card.write_text(card.read_text("utf-8") + "\n" + sure, "utf-8")
    result = CliRunner().invoke(main, ["audit", str(card), "--stop-at", "query"])
    assert result.output.count("Signed off by KM") == len(names)
    assert result.exit_code == 0


def _words(finding: Finding, text: str) -> str:
    return Page(text).line(Page(text).line_at(finding.place.start)).strip()
