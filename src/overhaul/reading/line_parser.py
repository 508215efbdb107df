"""The parser of a line: our grammar as lark makes a parser of it. The only importer of lark.

To work out its tables takes longer than to read ten pages, so they stand written down in tables.json, with a hash of the grammar and
lark's version; when either has changed they are worked out again, each time, until ``python -m overhaul.reading.line_parser`` writes
them anew.
"""

from __future__ import annotations

import json
import re
from functools import cache
from hashlib import blake2b
from importlib.resources import files
from pathlib import Path
from typing import Any

SPELLED = ("VOLUME", "WEIGHT", "THING", "DURATION", "DISTANCE")  # terminals of the units that are spelled out
_OPTIONS: dict[str, Any] = {"parser": "lalr", "lexer": "contextual", "maybe_placeholders": False}
_NOT_WRITTEN = ("transformer", "_plugins")  # what is given to the parser anew


def _either(forms: list[str]) -> str:
    """A pattern for any of ``forms``, the longest that fits, sorted into a tree by their letters: most words fail at the first."""
    tails: dict[str, list[str]] = {}
    for form in dict.fromkeys(forms):
        head = re.match(r"\\.|\[[^]]*\]\??|.", form)
        if head is not None:
            tails.setdefault(head[0], []).append(form[head.end() :])
    branches = [head + _either(rest) for head, rest in tails.items()]
    if not branches:
        return ""
    return branches[0] if len(branches) == 1 and "" not in forms else f"(?:{'|'.join(branches)})" + ("?" if "" in forms else "")


@cache
def _spellings() -> tuple[str, dict[str, str]]:
    """The spelled units as terminals of the grammar, and the unit that each spelling means."""
    whole: dict[str, list[str]] = {name: [] for name in SPELLED}
    short: dict[str, list[str]] = {name: [] for name in SPELLED}
    units: dict[str, str] = {}
    for line in files("overhaul.reading").joinpath("spellings.tsv").read_text("utf-8").splitlines()[1:]:
        terminal, unit, spelled = line.split("\t")
        for form in spelled.split():
            full = form.startswith(unit[:4]) and len(form) >= len(unit) or form in ("feet", "leaves", "loaves", "halves")
            (whole if full else short)[terminal].append(form.replace(".", r"\.").replace("_", r"[\s-]?"))
            units[form.replace("_", "").rstrip(".")] = unit
    # The full stop of an abbreviation belongs to it; that of a whole word ends the sentence.
    terminals = [
        f"{name}.11: /(?a:{_either(whole[name])})(?![\\w'-])" + (f"|(?a:{_either(short[name])})(?![\\w'-])\\.?" if short[name] else "") + "/i" for name in SPELLED
    ]
    return "\n".join(terminals), units


def spellings() -> dict[str, str]:
    """The unit that each spelling means; a spelling of two words is written as one."""
    return _spellings()[1]


def _grammar() -> str:
    folder = files("overhaul.grammar")
    return "".join((folder / f"{name}.lark").read_text("utf-8") for name in ("number", "unit", "line")) + f"\n{_spellings()[0]}\n"


def parser(builders: object) -> Any:
    """A parser of lines; ``builders`` has a method for each production."""
    from lark import Lark

    written = _written()
    if written is None:
        return Lark(_grammar(), transformer=builders, _plugins=_faster(), **_OPTIONS)
    # As the parsers begin that lark writes as programs of their own; its public loader takes pickles only.
    return Lark._load_from_dict(*written, transformer=builders, _plugins=_faster())  # type: ignore[no-untyped-call]


def _faster() -> dict[str, Any]:
    """lark's own compiled lexer and parser, where this Python has it: the same items, in a third of the time."""
    try:
        import lark_cython
    except ImportError:
        return {}
    plugins: dict[str, Any] = lark_cython.plugins
    return plugins


def _heading() -> str:
    from lark import __version__

    return f"lark {__version__} on grammar {blake2b(_grammar().encode(), digest_size=8).hexdigest()}"


def _written() -> tuple[dict[str, Any], dict[int, Any]] | None:
    """lark's tables as they were written down, or None where they are of another grammar or another lark."""
    told = json.loads(files("overhaul.reading").joinpath("tables.json").read_bytes())
    if told["of"] != _heading():
        return None
    data, table = told["data"], told["data"]["parser"]["parser"]
    table["tokens"] = _by_number(table["tokens"])
    table["states"] = {state: _by_number(moves) for state, moves in _by_number(table["states"]).items()}
    return data, _by_number(told["memo"])


def _by_number(told: dict[str, Any]) -> dict[int, Any]:
    """JSON has no numbers for keys."""
    return {int(number): what for number, what in told.items()}


def write_tables(to: Path) -> None:
    """Works the tables out and writes them down."""
    from lark import Lark
    from lark.grammar import Rule
    from lark.lexer import TerminalDef

    data, memo = Lark(_grammar(), **_OPTIONS).memo_serialize([TerminalDef, Rule])
    data["options"] = {name: option for name, option in data["options"].items() if name not in _NOT_WRITTEN}
    to.write_text(json.dumps({"of": _heading(), "data": data, "memo": memo}, ensure_ascii=False, separators=(",", ":")) + "\n", "utf-8")


if __name__ == "__main__":
    write_tables(Path(__file__).with_name("tables.json"))
