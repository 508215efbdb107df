"""The recipe file read back: checked by the published description, then laid over what its own lines say.

``read`` and ``audit`` stand beside those of ``pipeline``, for files whose fields count and not their words.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from overhaul import documents, pipeline, signing
from overhaul.findings import Finding, in_order
from overhaul.house import House
from overhaul.listing import Listed
from overhaul.pipeline import Audited
from overhaul.text import Page

if TYPE_CHECKING:
    from overhaul.recipe_file.back import Back
    from overhaul.sums.work import Sums
    from overhaul.yaml_text import Node

# A page in YAML is some ten times its own length; one of this size takes half a minute.
MOST_CHARACTERS = 3_000_000
MOST_RECIPES = 500


class RecipeFile(Struct, frozen=True):
    """A recipe file that was read: its own text as a page, and the recipes of its documents."""

    file: Page
    json: bool
    nodes: tuple[Node, ...]
    backs: tuple[Back, ...]

    @property
    def page(self) -> Page:
        """The page of its lines, with the words of edited fields in place of the old ones."""
        return self.backs[0].page


def read(text: str, name: str, house: House) -> RecipeFile | documents.Unreadable:
    """The recipes of the file ``text``, or the line and the reason why there are none."""
    from overhaul import yaml_text
    from overhaul.recipe import TooMuch
    from overhaul.recipe_file import back, json_text

    if len(text) > MOST_CHARACTERS:
        return documents.Unreadable(f"longer than {MOST_CHARACTERS:,} characters; a recipe file of that length is not read")
    json = text.lstrip()[:1] in ("{", "[")
    try:
        nodes = json_text.nodes(text) if json else yaml_text.nodes(text)
        if not 0 < len(nodes) <= MOST_RECIPES:
            return documents.Unreadable(f"{len(nodes):,} recipes in one file; 1 to {MOST_RECIPES} are read")
        return RecipeFile(Page(text, name), json, tuple(nodes), tuple(back.read_back(nodes, name, house)))
    except yaml_text.BadYaml as problem:
        return documents.Unreadable(f"line {problem.line}: {problem.problem}")
    except TooMuch as problem:
        return documents.Unreadable(str(problem))


def audit(data: bytes, name: str, house: House) -> Audited:
    """Everything that is to say about one file, whichever kind it is."""
    return audit_each([(data, name, house)])[0]


def audit_each(given: Sequence[tuple[bytes, str, House]]) -> list[Audited]:
    """Everything that is to say about each of several files, whichever kind they are."""
    texts = [documents.recipe_file(data, name) for data, name, _ in given]
    pages = iter(pipeline.audit_each([one for one, text in zip(given, texts, strict=True) if text is None]))
    return [next(pages) if text is None else _guarded(text, name, house) for (_, name, house), text in zip(given, texts, strict=True)]


def _guarded(text: str, name: str, house: House) -> Audited:
    return pipeline.guarded(name, lambda: _audited(text, name, house))


def _audited(text: str, name: str, house: House) -> Audited:
    found = read(text, name, house)
    if isinstance(found, documents.Unreadable):
        return Audited(name, unreadable=found.reason)
    return Audited(name, page=found.file, titles=tuple(one.recipe.title for one in found.backs), listed=_listed(found), findings=findings_of(found, house))


def _listed(found: RecipeFile) -> tuple[Listed, ...]:
    """What a binder's index has of the recipes of a file, with the places of the file."""
    from overhaul.recipe_file.places import place_in

    listed = []
    for one, back in zip(pipeline.listed_of(tuple(one.recipe for one in found.backs)), found.backs, strict=True):
        places = [place_in(pointer.place, back) for pointer in one.pointers]
        moved = [replace(pointer, place=place, line=found.file.line_at(place.start)) for pointer, place in zip(one.pointers, places, strict=True)]
        listed.append(replace(one, pointers=tuple(moved)))
    return tuple(listed)


def findings_of(found: RecipeFile, house: House) -> tuple[Finding, ...]:
    """What the rules say of the recipes of a file, each finding at the field that it is about."""
    from overhaul.recipe_file.places import on_its_lines

    findings: list[Finding] = []
    for one in found.backs:
        own = [on_its_lines(finding, one, found.file) for finding in signing.applied(one.page, list(pipeline.findings_of((one.recipe,), house)))]
        findings += [finding.of_recipe(one.recipe.index, one.recipe.title) for finding in own] if len(found.backs) > 1 else own
    return tuple(in_order(findings))


def on_its_page(found: RecipeFile, house: House) -> Audited:
    """What is to say of the recipes of ``found``, at places of the page that it keeps; remedies are edits of that page.

    A finding of a field that no words stand for has its place behind the end of the page.
    """
    findings = [finding for one in found.backs for finding in signing.applied(one.page, list(pipeline.findings_of((one.recipe,), house)))]
    return Audited(found.file.name, page=found.page, titles=tuple(one.recipe.title for one in found.backs), findings=tuple(in_order(findings)))


def again(found: RecipeFile, sums: Sequence[Sums], to: str) -> str:
    """The file itself in the form ``to`` (yaml or json), with what is worked worked anew. A YAML keeps its comments."""
    from overhaul import yaml_text
    from overhaul.output.clean import as_json
    from overhaul.recipe_file.keep import worked_anew

    text = found.file.text
    trees: list[Any] = [node.plain() for node in found.nodes] if found.json or to == "json" else yaml_text.kept(text)
    worked_anew(trees, found.backs, sums)
    if to == "json":
        return as_json(trees[0] if len(trees) == 1 else trees)
    return yaml_text.dump(trees) if found.json else yaml_text.dump_kept(trees)


__all__ = ["Audited", "RecipeFile", "again", "audit", "audit_each", "findings_of", "on_its_page", "read"]
