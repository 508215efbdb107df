"""Reading a house sheet. Unknown keys and bad values are errors with their line."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.span import Span
from overhaul.yaml_text import BadYaml, load_with_lines

LAWS = ("us", "eu", "uk", "ca", "au-nz")
_KOSHER = {"light flake": "kosher_light_flake", "dense rolled": "kosher_dense_rolled", "dense": "kosher_dense_rolled", "light": "kosher_light_flake"}
_CURES = ("cure1", "cure2", "ready-mix", "nitrite", "nitrate")
_AGENTS = ("nitrite", "nitrate")
MOST_CHARACTERS = 200_000  # a thousand lines of remarks are not a quarter of it


class BadSheet(Exception):
    """A house sheet that cannot stand: line and what is wrong."""

    def __init__(self, line: int, problem: str) -> None:
        super().__init__(f"{line}: {problem}")
        self.line = line
        self.problem = problem

    def __reduce__(self) -> tuple[type[BadSheet], tuple[int, str]]:
        return type(self), (self.line, self.problem)


def read_sheet(text: str) -> House:
    """The house of this sheet. Raises BadSheet for the first thing that cannot stand."""
    if len(text) > MOST_CHARACTERS:
        raise BadSheet(1, f"longer than {MOST_CHARACTERS:,} characters; a house sheet of that length is not read")
    try:
        sheet = load_with_lines(text)
    except BadYaml as problem:
        raise BadSheet(problem.line, problem.problem) from None
    if sheet is None:
        return House()
    if not isinstance(sheet, dict):
        raise BadSheet(1, "a house sheet is a list of keys and values")
    values: dict[str, Any] = {}
    for key, value in sheet.items():
        line = _line(sheet, key, 1)
        reader = _READERS.get(key)
        if reader is None:
            raise BadSheet(line, f"unknown key “{key}”; known are {', '.join(_READERS)}")
        values.update(reader(value, line))
    return House(**values)


def _fail(line: int, what: str, wanted: str) -> BadSheet:
    return BadSheet(line, f"{what}: {wanted}")


def _one_of(key: str, field: str, allowed: tuple[str, ...]) -> Callable[[Any, int], dict[str, Any]]:
    def read(value: Any, line: int) -> dict[str, Any]:
        if not isinstance(value, str) or value not in allowed:
            raise _fail(line, key, f"one of {', '.join(allowed)}, not {value!r}")
        return {field: str(value)}

    return read


def _yes_no(key: str) -> Callable[[Any, int], dict[str, Any]]:
    def read(value: Any, line: int) -> dict[str, Any]:
        if not isinstance(value, bool):
            raise _fail(line, key, f"true or false, not {value!r}")
        return {key: value}

    return read


def _number(value: Any, line: int, key: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not -500 < float(value) < 1e6:
        raise _fail(line, key, f"a number, not {value!r}")
    return float(value)


def _above_nothing(value: Any, line: int, key: str) -> float:
    number = _number(value, line, key)
    if number <= 0:
        raise _fail(line, key, f"a number above nothing, not {value!r}")
    return number


def _mapping(value: Any, line: int, key: str) -> Any:
    if not isinstance(value, dict):
        raise _fail(line, key, "keys and values in it")
    return value


def _line(mapping: Any, key: Any, line: int) -> int:
    return int(mapping.lc.key(key)[0]) + 1 if hasattr(mapping, "lc") else line


def _range(key: str) -> Callable[[Any, int], dict[str, Any]]:
    def read(value: Any, line: int) -> dict[str, Any]:
        mapping = _mapping(value, line, key)
        if set(mapping) != {"low", "high", "unit"}:
            raise _fail(line, key, "low, high and unit (degF or degC)")
        low, high = _number(mapping["low"], line, key), _number(mapping["high"], line, key)
        unit = mapping["unit"]
        if unit not in ("degF", "degC"):
            raise _fail(line, key, f"unit degF or degC, not {unit!r}")
        if low > high:
            raise _fail(line, key, f"low {low:g} is above high {high:g}")
        if unit == "degC":
            low, high = low * 9 / 5 + 32, high * 9 / 5 + 32
        return {key: Span(low, (low + high) / 2, high)}

    return read


def _salt(value: Any, line: int) -> dict[str, Any]:
    mapping = _mapping(value, line, "salt")
    kinds: dict[str, str] = {}
    cups: dict[str, float] = {}
    for name, told in mapping.items():
        at = _line(mapping, name, line)
        if isinstance(told, dict):
            if set(told) != {"gram_per_cup"}:
                raise _fail(at, f"salt {name}", "a kind, or gram_per_cup")
            cups[str(name)] = _above_nothing(told["gram_per_cup"], at, f"salt {name}")
        elif name == "kosher" and isinstance(told, str) and told in _KOSHER:
            kinds["kosher"] = _KOSHER[told]
        else:
            found = lexicon.known(lexicon.plain_words(str(told)))
            if found is None or found.role != "salt" or found.kind is None:
                raise _fail(at, f"salt {name}", f"a kind of salt (light flake, dense rolled …), not {told!r}")
            kinds[str(name)] = found.kind
    return {"salt_kinds": kinds, "gram_per_cup": cups}


def _curing_salts(value: Any, line: int) -> dict[str, Any]:
    mapping = _mapping(value, line, "curing_salts")
    found: dict[str, dict[str, float]] = {}
    for name, told in mapping.items():
        at = _line(mapping, name, line)
        if name not in _CURES:
            raise _fail(at, f"curing_salts {name}", f"one of {', '.join(_CURES)}")
        agents = _mapping(told, at, f"curing_salts {name}")
        for agent, percent in agents.items():
            if agent not in _AGENTS:
                raise _fail(at, f"curing_salts {name}", "nitrite and nitrate, in percent")
            if not 0 <= _number(percent, at, f"curing_salts {name}") <= 100:
                raise _fail(at, f"curing_salts {name}", f"a percentage, not {percent!r}")
        found[name] = {agent: float(percent) for agent, percent in agents.items()}
    return {"strengths": found}


def _names(value: Any, line: int) -> dict[str, Any]:
    mapping = _mapping(value, line, "names")
    for name, told in mapping.items():
        if told not in (*_CURES, "salt", "sugar") and lexicon.known(lexicon.plain_words(str(told))) is None:
            raise _fail(_line(mapping, name, line), f"names {name}", f"a role or a known name, not {told!r}")
    return {"names": {str(name).lower(): str(told) for name, told in mapping.items()}}


def _tubs(value: Any, line: int) -> dict[str, Any]:
    mapping = _mapping(value, line, "tubs")
    found = {}
    for name, told in mapping.items():
        at = _line(mapping, name, line)
        tub = _mapping(told, at, f"tubs {name}")
        if set(tub) != {"amount", "unit"}:
            raise _fail(at, f"tubs {name}", "amount and unit")
        try:
            litre = _above_nothing(tub["amount"], at, f"tubs {name}") * float(units.factor(str(tub["unit"])))
        except KeyError:
            raise _fail(at, f"tubs {name}", f"a unit of volume, not {tub['unit']!r}") from None
        if units.dimension(str(tub["unit"])) != "volume":
            raise _fail(at, f"tubs {name}", f"a unit of volume, not {tub['unit']!r}")
        found[str(name)] = Span(litre, litre, litre)
    return {"tubs": found}


def _scale(value: Any, line: int) -> dict[str, Any]:
    mapping = _mapping(value, line, "scale")
    if set(mapping) - {"cure", "other"}:
        raise _fail(line, "scale", "cure and other, in gram")
    return {"scale": {str(key): _above_nothing(told, _line(mapping, key, line), "scale") for key, told in mapping.items()}}


def _kitchen(value: Any, line: int) -> dict[str, Any]:
    if not isinstance(value, str):
        raise _fail(line, "kitchen", "a name")
    return {"kitchen": value}


_READERS: dict[str, Callable[[Any, int], dict[str, Any]]] = {
    "kitchen": _kitchen, "law": _one_of("law", "law", LAWS), "gallon": _one_of("gallon", "gallon", ("us", "imperial")), "sold": _yes_no("sold"),
    "salt": _salt, "curing_salts": _curing_salts, "names": _names, "cooler": _range("cooler"), "ice": _range("ice"), "smoker": _range("smoker"),
    "needle": _yes_no("needle"), "tubs": _tubs, "scale": _scale,
}  # fmt: skip
