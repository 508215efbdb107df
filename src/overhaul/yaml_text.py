"""YAML 1.2 in and out. The only importer of ruamel.yaml."""

from __future__ import annotations

import re
from io import StringIO
from typing import Any

from msgspec import Struct

_TURNS = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")  # marks that turn the direction, written as escapes
_NOT_PLAIN = re.compile(f"^[?:-]|[\x85\u2028\u2029]|{_TURNS.pattern}")  # written plain, these would come back as something else
_DEEPEST = 50  # no sheet of ours goes past four


class BadYaml(Exception):
    """YAML that cannot stand: what is wrong, and on which line (from 1)."""

    def __init__(self, line: int, problem: str) -> None:
        super().__init__(f"line {line}: {problem}")
        self.line = line
        self.problem = problem

    def __reduce__(self) -> tuple[type[BadYaml], tuple[int, str]]:
        return type(self), (self.line, self.problem)


def dump(documents: list[dict[str, Any]]) -> str:
    """``documents`` as a stream of YAML documents, key order kept."""
    yaml = _writing()
    yaml.default_flow_style = None
    return _dumped(yaml, [blocks(document) for document in documents])


def _writing() -> Any:
    """What writes YAML; in double quotes, marks that turn the direction as escapes."""
    from ruamel.yaml import YAML
    from ruamel.yaml.emitter import RoundTripEmitter

    class Emitter(RoundTripEmitter):
        def write_double_quoted(self, text: Any, split: Any = True) -> None:
            outer, self.stream = self.stream, StringIO()
            super().write_double_quoted(text, split)
            quoted, self.stream = self.stream.getvalue(), outer
            self.stream.write(_TURNS.sub(lambda found: f"\\u{ord(found[0]):04x}", quoted))

    yaml = YAML()
    yaml.Emitter = Emitter
    yaml.width = 4096
    yaml.allow_unicode = True
    return yaml


def _dumped(yaml: Any, documents: list[Any]) -> str:
    yaml.explicit_start = len(documents) > 1
    out = StringIO()
    for document in documents:
        yaml.dump(document, out)
    return out.getvalue()


def blocks(value: Any, depth: int = 0) -> Any:
    """Long things as blocks, small leaf mappings on one line: what a cook can read."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString

    if isinstance(value, dict):
        made = CommentedMap((key, blocks(inner, depth + 1)) for key, inner in value.items())
        if depth > 1 and _small(value):
            made.fa.set_flow_style()
        else:
            made.fa.set_block_style()
        return made
    if isinstance(value, list):
        row = CommentedSeq(blocks(inner, depth + 1) for inner in value)
        if all(not isinstance(inner, (dict, list)) for inner in value):
            row.fa.set_flow_style()
        else:
            row.fa.set_block_style()
        return row
    if isinstance(value, str) and _NOT_PLAIN.search(value):
        return DoubleQuotedScalarString(value)
    return value


def _small(value: dict[str, Any]) -> bool:
    return "text" not in value and all(not isinstance(inner, (dict, list)) for inner in value.values()) and len(str(value)) < 110


_OF_COMMENTS = (NotImplementedError, AssertionError)  # what ruamel raises where it keeps comments and two of them meet
_COMMENT = "a comment where it cannot be followed; move it to a line between two keys"


def load_with_lines(text: str) -> Any:
    """One YAML document whose mappings know their lines (``.lc``). Raises BadYaml; tags and anchors are refused."""
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError
    from ruamel.yaml.events import CollectionEndEvent, CollectionStartEvent

    scalars: list[tuple[int, str]] = []
    line, depth = 1, 0
    try:
        for event in YAML(typ="rt").parse(text):
            line = event.start_mark.line + 1
            if getattr(event, "anchor", None) or str(getattr(event, "tag", None)) not in ("None", "!"):
                raise BadYaml(line, "anchors, aliases and tags are not read here")
            depth += isinstance(event, CollectionStartEvent) - isinstance(event, CollectionEndEvent)
            if depth > _DEEPEST:
                raise BadYaml(line, "nested too deep")
            if getattr(event, "value", None) is not None:
                scalars.append((line, event.value))
        return YAML(typ="rt").load(text)
    except MarkedYAMLError as problem:
        mark = problem.problem_mark or problem.context_mark
        raise BadYaml((mark.line + 1) if mark else line, str(problem.problem or problem.context or "not YAML")) from None
    except YAMLError as problem:
        raise BadYaml(line, str(problem).splitlines()[0]) from None
    except _OF_COMMENTS:
        raise BadYaml(line, _COMMENT) from None
    except ValueError as problem:  # a date that is in no calendar
        raise BadYaml(next((at for at, value in scalars if not _is_a_value(value)), 1), f"not a value: {problem}") from None


def _is_a_value(scalar: str) -> bool:
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    try:
        YAML(typ="rt").load(scalar)
    except YAMLError:
        return True
    except ValueError:
        return False
    return True


class Node(Struct, frozen=True):
    """A value and where it stands in its file, in code points; ``keys`` are the places of a mapping's keys."""

    value: Any
    start: int
    end: int
    line: int
    keys: dict[str, tuple[int, int]] = {}

    def plain(self) -> Any:
        """The value alone."""
        if isinstance(self.value, dict):
            return {key: inner.plain() for key, inner in self.value.items()}
        return [inner.plain() for inner in self.value] if isinstance(self.value, list) else self.value

    def at(self, *path: str | int) -> Node | None:
        """The node under ``path``, or None."""
        here = self
        for step in path:
            if isinstance(here.value, dict) and isinstance(step, str) and step in here.value:
                here = here.value[step]
            elif isinstance(here.value, list) and isinstance(step, int) and step < len(here.value):
                here = here.value[step]
            else:
                return None
        return here


_CORE = "tag:yaml.org,2002:"
_STRINGS = ("str", "timestamp", "value")  # a bare date is read as the words it is


def nodes(text: str) -> list[Node]:
    """The documents of ``text`` as nodes that know their places. Raises BadYaml."""
    from ruamel.yaml import YAML

    try:
        return [_node(document, 0) for document in YAML().compose_all(text) if document is not None]
    except RecursionError:
        raise BadYaml(1, "nested too deep") from None
    except Exception as problem:
        raise _told(problem) from None


def _told(problem: Exception) -> BadYaml:
    """What went wrong, in one line. Whatever a parser raises on hostile text is the text's fault, but for what is not a parser's."""
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    if isinstance(problem, BadYaml):
        return problem
    if isinstance(problem, MarkedYAMLError):
        mark = problem.problem_mark or problem.context_mark
        return BadYaml((mark.line + 1) if mark else 1, str(problem.problem or problem.context or "not YAML"))
    if isinstance(problem, _OF_COMMENTS):
        return BadYaml(1, _COMMENT)
    if isinstance(problem, (YAMLError, ValueError)):
        return BadYaml(1, f"not YAML: {(str(problem).splitlines() or [''])[0]}")
    raise problem


def _node(made: Any, depth: int) -> Node:
    from ruamel.yaml.nodes import MappingNode, SequenceNode

    line, start, end = made.start_mark.line + 1, made.start_mark.index, made.end_mark.index
    if made.anchor is not None:
        raise BadYaml(line, "anchors and aliases are not read here")
    if depth > _DEEPEST:
        raise BadYaml(line, "nested too deep")
    tag = str(made.tag).removeprefix(_CORE)
    if isinstance(made, MappingNode) and tag == "map":
        inner: dict[str, Node] = {}
        keys: dict[str, tuple[int, int]] = {}
        for key, value in made.value:
            name = _node(key, depth + 1).value
            if not isinstance(name, str):
                raise BadYaml(key.start_mark.line + 1, "a key that is not a word")
            if name in inner:
                raise BadYaml(key.start_mark.line + 1, f"the key “{name}” stands here twice")
            inner[name], keys[name] = _node(value, depth + 1), (key.start_mark.index, key.end_mark.index)
        return Node(inner, start, end, line, keys)
    if isinstance(made, SequenceNode) and tag == "seq":
        return Node([_node(item, depth + 1) for item in made.value], start, end, line)
    if tag not in _SCALARS or isinstance(made, (MappingNode, SequenceNode)):
        raise BadYaml(line, f"the tag “{tag[:40]}” is not read here")
    try:
        return Node(_SCALARS[tag](made.value), start, end, line)
    except (ValueError, OverflowError):
        raise BadYaml(line, f"not a number: “{made.value[:40]}”") from None


def _whole(text: str) -> int:
    bare = text.replace("_", "")
    return int(bare, 0) if bare.lstrip("+-")[:2].lower() in ("0x", "0o", "0b") else int(bare)


def _broken(text: str) -> float:
    return float(text.replace("_", "").replace(".inf", "inf").replace(".Inf", "inf").replace(".INF", "inf").replace(".nan", "nan").replace(".NaN", "nan").replace(".NAN", "nan"))


_SCALARS: dict[str, Any] = {"null": lambda text: None, "bool": lambda text: text.lower() == "true", "int": _whole, "float": _broken, **dict.fromkeys(_STRINGS, str)}


def kept(text: str) -> list[Any]:
    """The documents of ``text`` with their comments, key order and ways of writing. Raises BadYaml; ask ``nodes`` first."""
    try:
        return [document for document in _keeping().load_all(text) if document is not None]
    except Exception as problem:
        raise _told(problem) from None


def _keeping() -> Any:
    yaml = _writing()
    yaml.preserve_quotes = True
    return yaml


def dump_kept(documents: list[Any]) -> str:
    """What ``kept`` gave, changed or not, as text."""
    return _dumped(_keeping(), documents)
