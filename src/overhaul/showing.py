"""What the HTML report shows of one file, made where the file was audited: its recipes read again from its page, rendered and packed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from msgspec.structs import replace

from overhaul import documents, pipeline, recipe_file
from overhaul.findings import Finding
from overhaul.house import House
from overhaul.output import read_page, report
from overhaul.output.report import ShownLine
from overhaul.pipeline import Audited
from overhaul.recipe.model import Recipe
from overhaul.recipe_file.back import Back, spot
from overhaul.sums.work import Sums
from overhaul.text import Page

_One = tuple[Recipe, Sequence[ShownLine]]


def with_shown(audited: Audited, house: House) -> Audited:
    """``audited`` with what a report shows of it. A failure of ours is told as the reason why the file is not shown."""
    page = audited.page
    if page is None:
        return audited

    def work() -> Audited:
        recipes = _recipes(page, house)
        own = _shared_out(page, recipes, audited.findings)
        entries = [report.entry(audited.file, page, recipe, Sums(recipe, house), lines, findings) for (recipe, lines), findings in zip(recipes, own, strict=True)]
        return replace(audited, shown=report.packed(entries))

    return pipeline.guarded(audited.file, work)


def every(given: Iterable[tuple[Audited, House | None]], workers: int = 1) -> Iterator[Audited]:
    """Each audit with what is shown of it, in order, over ``workers`` processes; of one that was not read nothing is, and it needs no house.

    A few hundred at a time: neither the audits nor what is shown of them wait in memory.
    """
    rest = iter(given)
    if workers <= 1:
        yield from map(_one, rest)
        return
    from concurrent.futures.process import BrokenProcessPool

    from overhaul import processes

    # The first is shown here: what is built for it (templates, words) is then there in every process split off.
    yield from map(_one, islice(rest, 1))
    with processes.pool(workers) as pool:
        while some := list(islice(rest, _AT_ONCE * workers)):
            done = 0
            try:
                for shown in pool.map(_one, some, chunksize=_IN_ONE):
                    done += 1
                    yield shown
            except BrokenProcessPool:
                for audited, _ in (*some[done:], *rest):
                    yield audited if audited.unreadable is not None else Audited(audited.file, unreadable=ENDED)


ENDED = "not shown: a worker process was ended from outside; try again with --workers 1"
_AT_ONCE, _IN_ONE = 128, 8  # files for each worker before the next are sent; files in one call


def _one(given: tuple[Audited, House | None]) -> Audited:
    audited, house = given
    return with_shown(audited, house) if house is not None else audited


def _recipes(page: Page, house: House) -> list[_One]:
    if documents.recipe_file(page.text.encode("utf-8", "replace"), page.name) is None:
        return [(recipe, [ShownLine(line.line, line.text, line.kind, tuple(said)) for line, said, _ in read_page.readings(recipe)]) for recipe in pipeline.read_text(page, house).recipes]
    kept = recipe_file.read(page.text, page.name, house)
    if isinstance(kept, documents.Unreadable):
        return []
    starts = [page.line_at(back.node.start) for back in kept.backs] + [len(page.lines) + 1]
    starts[0] = 1
    return [(back.recipe, _file_lines(page, back, range(first, after))) for back, first, after in zip(kept.backs, starts, starts[1:], strict=False)]


def _file_lines(page: Page, back: Back, numbers: range) -> list[ShownLine]:
    """The lines of a recipe file, what was understood beside the words that it was understood from."""
    said: dict[int, list[str]] = {}
    for node, item in back.items:
        said.setdefault(page.line_at(spot(node, "text")[0]), []).append(read_page.ingredient_words(item))
    for node, step in back.steps:
        said.setdefault(page.line_at(spot(node, "text")[0]), []).append(read_page.step_words(step))
    return [ShownLine(number, page.line(number), "data", tuple(said.get(number, ()))) for number in numbers]


def _shared_out(page: Page, recipes: Sequence[_One], findings: Sequence[Finding]) -> list[list[Finding]]:
    """Each recipe's findings: those that name it, and those that name none where its lines are."""
    found: list[list[Finding]] = [[] for _ in recipes]
    indexes = [recipe.index for recipe, _ in recipes]
    for one in findings:
        line = page.line_at(one.place.start)
        if one.recipe is not None and one.recipe[0] in indexes:
            at = indexes.index(one.recipe[0])
        else:
            at = max((index for index, (_, lines) in enumerate(recipes) if lines and lines[0].number <= line), default=0)
        if found:
            found[at].append(one)
    return found
