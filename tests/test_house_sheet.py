from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.house import House
from overhaul.house_sheet import BadSheet, read_sheet
from overhaul.span import Span

WHOLE = """\
kitchen: The cold room
law: eu
gallon: imperial
sold: true
salt: {kosher: dense rolled, table: {gram_per_cup: 292}}
curing_salts: {cure1: {nitrite: 6.25}, ready-mix: {nitrite: 0.5, nitrate: 0.5}}
names: {Old Faithful: cure1}
cooler: {low: 36, high: 38, unit: degF}
ice: {low: -20, high: -10, unit: degC}
smoker: {low: 180, high: 300, unit: degF}
needle: true
tubs: {blue bucket: {amount: 22, unit: litre}}
scale: {cure: 0.1, other: 1}
"""


def test_every_key_is_read() -> None:
    assert read_sheet(WHOLE) == House(
        kitchen="The cold room",
        law="eu",
        gallon="imperial",
        sold=True,
        salt_kinds={"kosher": "kosher_dense_rolled"},
        gram_per_cup={"table": 292.0},
        strengths={"cure1": {"nitrite": 6.25}, "ready-mix": {"nitrite": 0.5, "nitrate": 0.5}},
        names={"old faithful": "cure1"},
        cooler=Span(36, 37, 38),
        ice=Span(-4, 5, 14),
        smoker=Span(180, 240, 300),
        needle=True,
        tubs={"blue bucket": Span(22, 22, 22)},
        scale={"cure": 0.1, "other": 1.0},
    )


def test_an_empty_sheet_is_a_kitchen_that_settles_nothing() -> None:
    assert read_sheet("# nothing yet\n") == House()


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("law: us\ncoler: {low: 1, high: 2, unit: degF}\n", 2, "unknown key “coler”"),
        ("law: [us]\n", 1, "law: one of us, eu, uk, ca, au-nz"),
        ("law: us\n\nlaw: eu\n", 3, "duplicate key"),
        ("kitchen: x\nsmoker: {low: 300, high: 180, unit: degF}\n", 2, "low 300 is above high 180"),
        ("cooler: {low: 36, high: 38}\n", 1, "low, high and unit (degF or degC)"),
        ("cooler: {low: 36, high: .nan, unit: degF}\n", 1, "a number, not nan"),
        ("salt:\n  table: {gram_per_cup: 0}\n", 2, "a number above nothing, not 0"),
        ("salt:\n  kosher: [dense]\n", 2, "a kind of salt"),
        ("curing_salts:\n  cure1: {nitrite: 101}\n", 2, "a percentage, not 101"),
        ("curing_salts:\n  cure9: {nitrite: 6.25}\n", 2, "one of cure1, cure2"),
        ("names:\n  a: cure1\n  b: moon dust\n", 3, "a role or a known name"),
        ("tubs:\n  blue: {amount: 22, unit: gram}\n", 2, "a unit of volume, not 'gram'"),
        ("scale:\n  cure: 0.1\n  other: -1\n", 3, "a number above nothing, not -1"),
        ("sold: yes\n", 1, "true or false, not 'yes'"),
        ("kitchen: &k x\n", 1, "anchors, aliases and tags"),
        ("law: us\nkitchen: !!python/object:os.system x\n", 2, "anchors, aliases and tags"),
        ("law: us\nkitchen: 2024-13-45\n", 2, "not a value"),
        ("law: us\nkitchen: [\n", 3, "expected the node content"),
        ("a:\n\tb: 1\n", 2, "cannot start any token"),
        ("[" * 5000 + "]" * 5000, 1, "nested too deep"),
        ("# " + "x" * 200_000, 1, "longer than 200,000 characters; a house sheet of that length is not read"),
        ("- kitchen\n", 1, "keys and values"),
    ],
)
def test_what_cannot_stand_is_an_error_with_its_line(text: str, line: int, said: str) -> None:
    with pytest.raises(BadSheet) as caught:
        read_sheet(text)
    assert caught.value.line == line
    assert said in caught.value.problem


_KEYS = st.sampled_from([*(line.split(":")[0] for line in WHOLE.splitlines()), "other"])
_VALUES = st.recursive(
    st.sampled_from(["us", "cure1", "1", "-3", ".inf", "true", "~", "dense rolled", "litre", "degF", "2024-01-01", "!!set {a}", "''", "*a"]),
    lambda inner: st.lists(inner, max_size=2).map(lambda row: f"[{', '.join(row)}]")
    | st.lists(st.tuples(st.sampled_from(["low", "high", "unit", "amount", "kosher", "cure1", "nitrite", "cure"]), inner), max_size=3).map(
        lambda rows: "{" + ", ".join(f"{key}: {value}" for key, value in rows) + "}"
    ),
    max_leaves=5,
)


@given(st.lists(st.tuples(_KEYS, _VALUES), max_size=3).map(lambda rows: "".join(f"{key}: {value}\n" for key, value in rows)) | st.text(max_size=60))
def test_any_sheet_is_a_house_or_an_error_with_its_line(text: str) -> None:
    try:
        assert isinstance(read_sheet(text), House)
    except BadSheet as problem:
        assert 1 <= problem.line <= text.count("\n") + 2
