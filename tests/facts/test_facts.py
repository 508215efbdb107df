from __future__ import annotations

import pytest

from overhaul import facts
from overhaul.facts import HEADER, TABLES, fact, limit, measure, read_table, sources, table
from overhaul.span import Span

ROWS = {"measures": 211, "word_measures": 33, "cuts": 58, "limits": 23, "dwell": 112}


@pytest.mark.parametrize(("name", "rows"), ROWS.items())
def test_no_row_is_lost(name: str, rows: int) -> None:
    assert len(table(name)) == rows


def test_every_source_is_used_and_every_one_used_is_known() -> None:
    used = {row.source for name in (*TABLES, "rules", "sums") for row in table(name).values()}
    named_in_code = {"house-rule", "crank", "ham-saltiness", "cfr-172-170", "fsis-appendix-b-1999", "fsis-brining", "poultry-extension", "salometer-table", "laliberte", "fb-2263", "fb-1438"}
    assert used | named_in_code >= set(sources())
    assert used <= set(sources())


# US SR28 household weights, NDB 02047 (table salt), 19335 (sugar), 02048 (cider vinegar).
@pytest.mark.printed
@pytest.mark.parametrize(("kind", "unit", "grams"), [("table_salt", "teaspoon", 6.0), ("table_salt", "cup", 292), ("sugar_white", "cup", 200), ("vinegar", "teaspoon", 5.0)])
def test_household_weights_as_printed(kind: str, unit: str, grams: float) -> None:
    found = measure(kind, unit)
    assert found is not None
    assert found.likely == grams


# FSIS Cooking Guideline (Revised Appendix A), December 2021, Table 2, 6.5 log: 130 °F 112 min, 145 °F 4 min, 157 °F 14 s.
@pytest.mark.printed
@pytest.mark.parametrize(("row", "seconds"), [("dwell_meat.130", 6720), ("dwell_meat.145", 240), ("dwell_meat.157", 14), ("dwell_turkey.150", 294), ("dwell_chicken.150", 252)])
def test_dwell_rows_as_printed(row: str, seconds: float) -> None:
    assert table("dwell")[row].value == seconds


# 9 CFR 424.21(c) and 424.22(b); Regulation (EU) 2023/2108: 80 mg/kg as the ion is 119.98 mg/kg sodium nitrite.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("law", "agent", "kind", "ppm"),
    [("us", "nitrite", "brine", 200), ("us", "nitrite", "ground", 156.25), ("us", "nitrite", "dry", 625), ("us", "nitrite", "belly_brine", 120), ("us", "nitrite", "belly_dry", 200), ("us", "nitrate", "dry", 2187.5), ("eu", "nitrite", "brine", 119.98), ("uk", "nitrite", "dry", 150), ("ca", "nitrite", "belly_dry", 120)],
)
def test_limits_as_printed(law: str, agent: str, kind: str, ppm: float) -> None:
    found = limit(law, agent, kind)
    assert found is not None
    assert found.value == ppm


def test_a_limit_from_memory_is_not_firm() -> None:
    found = limit("au-nz", "nitrite", "brine")
    assert found is not None
    assert not found.firm


def test_us_bacon_has_no_nitrate_limit_because_none_is_allowed() -> None:
    assert limit("us", "nitrate", "belly_dry") is None


@pytest.mark.parametrize(("unit", "ratio"), [("pint", 2), ("quart", 4), ("gallon", 16)])
def test_a_unit_without_a_row_follows_from_the_nearest(unit: str, ratio: int) -> None:
    cup, found = measure("salt_kind_unknown", "cup"), measure("salt_kind_unknown", unit)
    assert cup is not None
    assert found == Span(cup.low * ratio, cup.likely * ratio, cup.high * ratio)


def test_what_no_table_tells_is_none() -> None:
    assert measure("onion_each", "bottle") is None
    assert measure("nothing of the kind", "cup") is None
    assert facts.cut("nothing of the kind") is None


ROW = "a\t2\t1\t3\tgram\tsr28\there\tseen\tnote"


@pytest.mark.parametrize(
    ("lines", "problem"),
    [
        (["name\tvalue", ROW], "t.tsv:1: the header must be"),
        (["\t".join(HEADER), "a\t2\t1"], "t.tsv:2: 3 cells, 9 wanted"),
        (["\t".join(HEADER), ROW, ROW], "t.tsv:3: a stands twice"),
        (["\t".join(HEADER), ROW.replace("sr28", "somebody")], "t.tsv:2: no source 'somebody'"),
        (["\t".join(HEADER), ROW.replace("seen", "sure")], "t.tsv:2: no status 'sure'"),
        (["\t".join(HEADER), ROW.replace("\t2\t", "\ttwo\t")], "t.tsv:2: not a number"),
        (["\t".join(HEADER), ROW.replace("\t1\t3", "\t4\t3")], "t.tsv:2: 4 2 3 is no span"),
        (["\t".join(HEADER), ROW.replace("\t2\t", "\tnan\t")], "t.tsv:2:"),
    ],
)
def test_a_row_that_cannot_stand_is_refused_with_its_place(lines: list[str], problem: str) -> None:
    with pytest.raises(ValueError) as caught:
        read_table("\n".join(lines), "t.tsv", sources())
    assert str(caught.value).startswith(problem)


def test_the_likely_teaspoon_of_cure_is_the_labels() -> None:
    found = measure("cure_no1", "teaspoon")
    assert found is not None
    assert found.likely == 5.67
    assert fact("cure_no1.nitrite").span == Span(5.88, 6.25, 6.25)
