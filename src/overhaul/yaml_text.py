"""YAML 1.2 in and out. The only importer of ruamel.yaml."""

from __future__ import annotations

import re
from io import StringIO
from typing import Any

_NOT_PLAIN = re.compile("^[?:-]|[\x85\u2028\u2029]")  # written plain, these would come back as something else
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
    from ruamel.yaml import YAML

    yaml = YAML()
    yaml.default_flow_style = None
    yaml.width = 4096
    yaml.allow_unicode = True
    yaml.explicit_start = len(documents) > 1
    out = StringIO()
    for document in documents:
        yaml.dump(_blocks(document), out)
    return out.getvalue()


def _blocks(value: Any, depth: int = 0) -> Any:
    """Long things as blocks, small leaf mappings on one line: what a cook can read."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString

    if isinstance(value, dict):
        made = CommentedMap((key, _blocks(inner, depth + 1)) for key, inner in value.items())
        if depth > 1 and _small(value):
            made.fa.set_flow_style()
        else:
            made.fa.set_block_style()
        return made
    if isinstance(value, list):
        row = CommentedSeq(_blocks(inner, depth + 1) for inner in value)
        if all(not isinstance(inner, dict | list) for inner in value):
            row.fa.set_flow_style()
        else:
            row.fa.set_block_style()
        return row
    if isinstance(value, str) and _NOT_PLAIN.search(value):
        return DoubleQuotedScalarString(value)
    return value


def _small(value: dict[str, Any]) -> bool:
    return "text" not in value and all(not isinstance(inner, dict | list) for inner in value.values()) and len(str(value)) < 110


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
