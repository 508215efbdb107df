"""What a recipe file may hold: one description, printed as JSON Schema (2020-12) and walked by ``check``.

The two cannot drift, for ``check`` reads this very tree. It knows the few words of JSON Schema used here and no others.
Two things stand besides it, as JSON Schema has no words for them: a low above its high, and lines out of order (``page.py``).
"""

from __future__ import annotations

import itertools
import math
from functools import cache
from typing import Any, get_args

from overhaul.recipe.model import Cure, LineKind, Phase, Product, Role, Storage, Use
from overhaul.yaml_text import BadYaml, Node

DIALECT = "https://json-schema.org/draft/2020-12/schema"
FORMAT = "overhaul/1"
Schema = dict[str, Any]

_MOST_LINE = 2_000_000  # a page of more lines is not read (documents)
_TEXT: Schema = {"type": "string"}
_NUMBER: Schema = {"type": "number"}
_YES_NO: Schema = {"type": "boolean"}
_LINE: Schema = {"type": "integer", "minimum": 1, "maximum": _MOST_LINE}
_UNIT: Schema = {"type": "string", "minLength": 1, "maxLength": 40}
_TIMES = ("second", "minute", "hour", "day", "week", "fortnight", "month", "year", "night")
_LENGTHS = ("inch", "foot", "millimetre", "centimetre", "metre")
_HEATS = ("degF", "degC", "degree", "gas_mark", "each")  # each: a heat without a scale ("135 to 70 in 2 hours")
_WEIGHTS = ("milligram", "gram", "kilogram", "ounce", "pound")


def _or_null(schema: Schema) -> Schema:
    """A key whose value is not known is null or absent."""
    if "enum" in schema:
        return {**schema, "enum": [*schema["enum"], None]}
    if "type" in schema:
        return {**schema, "type": [schema["type"], "null"]}
    return {"anyOf": [schema, {"type": "null"}]}


def _keys(needed: str = "", **properties: Schema) -> Schema:
    """A mapping of these keys and no others; all may be null but for those in ``needed``."""
    must = needed.split()
    named = {key.rstrip("_"): schema if key.rstrip("_") in must else _or_null(schema) for key, schema in properties.items()}
    return {"type": "object", "properties": named, "additionalProperties": False, **({"required": must} if must else {})}


def _list(of: Schema) -> Schema:
    return {"type": "array", "items": of}


def _one_of(kinds: Any) -> Schema:
    return {"enum": list(get_args(kinds))}


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _range(needed: str = "low high unit", **more: Schema) -> Schema:
    return _keys(needed, low=_NUMBER, high=_NUMBER, unit=_UNIT, **more)


def _in(*units: str, needed: str = "low high unit", **more: Schema) -> Schema:
    """A range in one of ``units``."""
    return _keys(needed, low=_NUMBER, high=_NUMBER, unit={"enum": list(units)}, line=_LINE, stated=_YES_NO, **more)


def _measured(*units: str) -> Schema:
    return _list(_keys("low high unit", low=_NUMBER, high=_NUMBER, unit={"enum": list(units)} if units else _UNIT, of=_TEXT))


def _span(unit: str | None = None) -> Schema:
    return _keys("low likely high unit", low=_NUMBER, likely=_NUMBER, high=_NUMBER, unit={"enum": [unit]} if unit else _UNIT, stated=_YES_NO)


def _literal(struct: Any, name: str) -> Schema:
    """The words of a field of the model, which is written as a Literal or as one that may be None."""
    from typing import get_type_hints

    hint = get_type_hints(struct)[name]
    words = get_args(hint) if all(isinstance(each, str) for each in get_args(hint)) else [word for part in get_args(hint) for word in get_args(part)]
    return {"enum": list(words)}


@cache
def schema() -> Schema:
    """The description of one document of a recipe file."""
    named = _keys("name", name=_TEXT, role=_one_of(Role), amount=_ref("amount"), also=_list(_ref("amount")))
    time, heat = _ref("time"), _ref("heat")
    process = _keys(
        meat=_ref("meat"), meats=_list(_ref("meat")),
        cure=_keys("method", method=_literal(Cure, "method"), balance=_literal(Cure, "balance"), line=_LINE),
        pump=_in("percent"), cure_time=time, cure_rate=_in(*_TIMES, needed="low high unit per", per=_keys("amount unit", amount=_NUMBER, unit={"enum": [*_LENGTHS, *_WEIGHTS]}), more=_NUMBER),
        cure_temperature=heat, brine_temperature=heat, tub=_in("litre", needed="", material=_TEXT),
        weighed_down=_ref("mention"), turning=_keys(line=_LINE, days=_list({"type": "integer"})), thaw=_ref("mention"), rinse=_ref("mention"),
        soak=_in("hour", waters={"type": "integer"}), dry=_in("hour"), smoke_temperature=heat, smoke_time=time, final_temperature=heat, cook_time=time, hold=heat, rest=_in("minute"),
        cooling=_list(_keys("from to unit low high time_unit", from_=_NUMBER, to=_NUMBER, unit={"enum": ["degF"]}, low=_NUMBER, high=_NUMBER, time_unit={"enum": ["hour"]}, line=_LINE)),
        storage=_keys("low high unit", low=_NUMBER, high=_NUMBER, unit={"enum": ["day"]}, line=_LINE, temperature=heat, kept=_literal(Storage, "kept")),
    )  # fmt: skip
    ingredient = _keys(
        "", line=_LINE, text=_TEXT, name=_TEXT, role=_one_of(Role), count=_ref("amount"), amount=_ref("amount"), each=_YES_NO,
        per=_keys(amount=_NUMBER, unit=_UNIT, of=_TEXT), also=_list(_ref("amount")), instead=_list(named),
        columns=_list(_keys(factor=_NUMBER, amount=_ref("amount"))), was=_list(_ref("amount")), strength=_keys(nitrite=_span("percent"), nitrate=_span("percent")),
        state=_TEXT, optional=_YES_NO, in_method=_YES_NO, doubt=_TEXT, mass=_span("gram"),
    )  # fmt: skip
    step = _keys(
        "", line=_LINE, end_line=_LINE, text=_TEXT, phase=_one_of(Phase), then=_list(_one_of(Phase)), actions=_list(_TEXT), times=_measured(*_TIMES),
        temperatures=_measured(*_HEATS), lengths=_measured(*_LENGTHS), uses=_list(_keys(name=_TEXT, amount=_ref("amount"))), amounts=_measured(),
    )  # fmt: skip
    given = _keys("name", name=_TEXT, low=_NUMBER, likely=_NUMBER, high=_NUMBER, unit=_UNIT, line=_LINE, stated=_YES_NO, source=_TEXT)
    worked = _keys("", low=_NUMBER, likely=_NUMBER, high=_NUMBER, unit=_UNIT, formula=_TEXT, inputs=_list(given), assumed=_list(_TEXT), sources=_list(_TEXT), beside=_list({"type": "object"}))
    return {
        "$schema": DIALECT,
        "title": "A recipe file, overhaul/1",
        **_keys(
            "format", format={"enum": [FORMAT]}, title=_TEXT, product=_one_of(Product), source=_keys(file=_TEXT, sha256=_TEXT), yield_=_range(text=_TEXT, line=_LINE),
            batch={"type": "object"},  # how the amounts came about (`overhaul batch`); never read back
            sections=_list(_keys("ingredients", name=_TEXT, line=_LINE, use=_one_of(Use), ingredients=_list(_ref("ingredient")))),
            steps=_list(_ref("step")), process=_ref("process"), branches=_list(_keys("name", name=_TEXT, steps=_list(_LINE), process=_ref("process"), sums=_ref("sums"))),
            references=_list(_keys(line=_LINE, text=_TEXT, to=_TEXT, page={"type": "integer"}, step={"type": "integer"})),
            notes=_list(_keys("text", line=_LINE, text=_TEXT)), lines=_list(_keys("line text", line=_LINE, kind=_one_of(LineKind), text=_TEXT)),
            unread=_list(_keys("line text", line=_LINE, column=_LINE, text=_TEXT)), sums=_ref("sums"),
        ),
        "$defs": {
            "amount": _range("low high unit", parts=_list(_ref("amount")), about=_TEXT),
            "mention": _keys(line=_LINE),
            "time": _in(*_TIMES, in_a_hurry=_ref("time")),
            "heat": _in("degF", dwell=_ref("time")),
            "meat": _keys("", line=_LINE, name=_TEXT, species=_TEXT, cut=_TEXT, pieces=_keys("low high", low={"type": "integer"}, high={"type": "integer"}), mass=_span("gram"), thickness=_span("millimetre")),
            "ingredient": ingredient,
            "step": step,
            "process": process,
            # Names of sums are open: a later version works more of them, and none is read back.
            "sums": {"type": "object", "additionalProperties": {"anyOf": [worked, _list({"type": "object"})]}},
        },
    }  # fmt: skip


def check(node: Node) -> None:
    """Raises BadYaml for the first thing in ``node`` that the description does not allow."""
    _check(node, schema(), "the file")


_WORDS = {"string": "words", "number": "a number", "integer": "a whole number", "boolean": "true or false", "object": "keys and values", "array": "a list", "null": "nothing"}


def _check(node: Node, told: Schema, name: str) -> None:
    if "$ref" in told:
        told = schema()["$defs"][told["$ref"].rpartition("/")[2]]
    if "anyOf" in told:
        fits = [one for one in told["anyOf"] if _is(node.value, _types(one))]
        if not fits:
            raise _wrong(node, name, " or ".join(_WORDS[kind] for one in told["anyOf"] for kind in _types(one)))
        return _check(node, fits[0], name)
    value = node.value
    if "enum" in told:
        if isinstance(value, (dict, list)) or value not in told["enum"]:
            raise _wrong(node, name, ("one of " if len(told["enum"]) > 1 else "") + ", ".join("nothing" if one is None else str(one) for one in told["enum"]))
        return None
    if not _is(value, _types(told)):
        raise _wrong(node, name, " or ".join(_WORDS[kind] for kind in _types(told)))
    if isinstance(value, str):
        if not told.get("minLength", 0) <= len(value) <= told.get("maxLength", len(value)):
            raise _wrong(node, name, f"{told['minLength']} to {told['maxLength']} characters")
    elif isinstance(value, dict):
        _check_keys(node, told, name)
    elif isinstance(value, list):
        for item in value:
            _check(item, told["items"], name)
    elif value is not None and not told.get("minimum", value) <= value <= told.get("maximum", value):
        raise _wrong(node, name, f"{told['minimum']} to {told['maximum']:,}")
    return None


def _check_keys(node: Node, told: Schema, name: str) -> None:
    known, more = told.get("properties", {}), told.get("additionalProperties", True)
    for key, inner in node.value.items():
        if key in known:
            _check(inner, known[key], key)
        elif more is False:
            raise BadYaml(inner.line, f"unknown key “{_short(key)}” in {name}; known are {', '.join(known)}")
        elif more is not True:
            _check(inner, more, key)
    for key in told.get("required", ()):
        if key not in node.value:
            raise BadYaml(node.line, f"{name}: the key “{key}” is missing")
    if {"low", "high"} <= set(known):
        in_order = [node.value[key] for key in ("low", "likely", "high") if key in node.value and node.value[key].value is not None]
        for low, high in itertools.pairwise(in_order):
            if low.value > high.value:
                raise BadYaml(low.line, f"{name}: low, likely and high in this order, not {low.value:g} before {high.value:g}")


def _types(told: Schema) -> list[str]:
    if "$ref" in told:
        return _types(schema()["$defs"][told["$ref"].rpartition("/")[2]])
    kinds = told.get("type", [])
    return kinds if isinstance(kinds, list) else [kinds]


def _is(value: Any, kinds: list[str]) -> bool:
    """JSON Schema's own sense of the types: 2.0 is a whole number, true is none."""
    if isinstance(value, bool):
        return "boolean" in kinds
    if isinstance(value, (int, float)):
        return ("number" in kinds and math.isfinite(value) and abs(value) < 1e15) or ("integer" in kinds and math.isfinite(value) and value == int(value))
    return {str: "string", dict: "object", list: "array", type(None): "null"}[type(value)] in kinds


def _wrong(node: Node, name: str, wanted: str) -> BadYaml:
    value = node.value
    found = "a list" if isinstance(value, list) else "keys and values" if isinstance(value, dict) else "nothing" if value is None else "true" if value is True else "false" if value is False else f"“{_short(str(value))}”" if isinstance(value, str) else _short(f"{value:g}")
    return BadYaml(node.line, f"{name}: {wanted} expected, not {found}")


def _short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:39]}…"
