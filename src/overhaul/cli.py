"""The command line: arguments, then the pipeline, then a report and an exit status.

0 nothing at or above ``--stop-at``, 1 something, 2 something could not be done. Imports are made where they are
needed: start-up is what a single check costs.
"""

from __future__ import annotations

import errno
import os
import shutil
import stat
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from msgspec.structs import replace

from overhaul import __version__

if TYPE_CHECKING:
    from concurrent.futures import Executor
    from datetime import datetime

    from overhaul.binder import Binder
    from overhaul.cache import Results
    from overhaul.findings import Finding
    from overhaul.house import House, Law
    from overhaul.output.sheets import Kind
    from overhaul.pipeline import Audited
    from overhaul.recipe.model import Recipe
    from overhaul.recipe_file import RecipeFile
    from overhaul.sums.work import Sums
    from overhaul.text import Page

LAWS = ("us", "eu", "uk", "ca", "au-nz")
_FEW = 24  # files that are shown sooner than another process is started
_INTERRUPTED = 130  # 128 and the number of the signal, as shells have it
GRADES = ("hazard", "fault", "query", "never")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


class _CannotDo(click.ClickException):
    """Something that could not be done: a clear message and exit status 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        _say(self.format_message())


def _say(problem: str) -> None:
    """One line on standard error."""
    from overhaul.output.clean import clean

    click.echo(f"overhaul: {clean(problem)}", err=True)


class _Commands(click.Group):
    """The commands. A failure of ours ends in one line and status 2, not in a traceback."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, click.Abort):
            raise
        except KeyboardInterrupt:
            raise click.exceptions.Exit(_INTERRUPTED) from None
        except Exception as problem:
            if isinstance(problem, OSError) and problem.errno == errno.EPIPE:
                raise
            raise _CannotDo(f"the program failed ({type(problem).__name__}: {problem}); please report it") from problem


def _house_options(command: Callable[..., Any]) -> Callable[..., Any]:
    command = click.option("--law", type=click.Choice(LAWS), help="Whose limits to check against.")(command)
    return click.option("--house", "house_file", type=click.Path(path_type=Path), help="The house sheet to use.")(command)


def _out_option(command: Callable[..., Any]) -> Callable[..., Any]:
    return click.option("--out", type=click.Path(path_type=Path), help="Write to this file instead.")(command)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="overhaul")
def main() -> None:
    """Read cured-meat recipes as they are written, work their sums, and report line by line.

    Decision support only: local food code, the kitchen's food-safety plan and a licensed or qualified person decide.
    """


@main.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--as", "form", type=click.Choice(("plain", "json", "sarif", "html")), default="plain", help="How to report.")
@click.option("--stop-at", type=click.Choice(GRADES), default="hazard", help="Exit status 1 from this grade up.")
@click.option("--workers", type=click.IntRange(min=1), help="How many processes to use at most; all cores where it is not said.")
@click.option("--cluster", metavar="ADDRESS", help="Audit on the Dask cluster whose scheduler is there (tcp://host:8786).")
@click.option("--no-cache", is_flag=True, help="Take no results of earlier runs, and keep none.")
@click.option("--handoff", is_flag=True, help="Say whether each recipe is ready to hand over, and what a new cook would ask.")
@click.option("--out-house", "sheet", type=click.Path(path_type=Path), help="Write a house sheet with the questions that it would settle, as comments.")
@click.option("--remedied", "copy", type=click.Path(path_type=Path), help="Write a copy of the one recipe with its remedies put in and marked.")
@_out_option
@_house_options
def audit(paths: tuple[Path, ...], form: str, stop_at: str, workers: int | None, cluster: str | None, no_cache: bool, handoff: bool, sheet: Path | None, copy: Path | None, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """Findings for files and folders."""
    import gc

    # Nothing here lives in cycles for long; collecting after every few hundred objects costs a tenth of the time.
    gc.set_threshold(50_000)
    from overhaul import binder, cross_references
    from overhaul.kept import Held, Kept
    from overhaul.pipeline import Audited

    gathered = binder.gather(paths)
    if sheet is not None and sheet.exists():
        raise _CannotDo(f"{sheet}: it is there already, and a house sheet is never written over; name another file")
    if copy is not None:
        _check_copy(copy, gathered.files)
    houses = _Houses(house_file, law)
    audited: dict[Path, Kept] = {}
    tasks: list[binder.Task] = []
    for path in gathered.files:
        try:
            tasks.append((path, houses.for_path(path)))
        except _CannotDo as problem:
            if house_file is not None:
                raise
            audited[path] = Kept(str(path), whole=Audited(str(path), unreadable=f"its house sheet cannot stand: {problem.format_message()}"))
    with _cluster(cluster) as executor, _progress(len(tasks)) as advance, closing(binder.audits(tasks, workers or binder.cores(), _results(no_cache), executor)) as found:
        for (path, _), one in zip(tasks, found, strict=True):
            audited[path] = one
            advance()
    each = [audited[path] for path in gathered.files]
    in_order = Held(cross_references.followed(each))
    if handoff:
        _write(_hand_over(in_order, houses, form), out)
    elif form == "html":
        _write_parts(_report_page(in_order, houses, workers or binder.cores(), gathered), out)
    else:
        _write_parts(_report(in_order, form, gathered.skipped, out is None), out)
    if sheet is not None:
        _write_sheet(sheet, Held(each), houses)  # what the binder says of a page, no house sheet settles
    if copy is not None:
        _write_copy(copy, in_order[0], houses.for_path(gathered.files[0]))
    problems = list(gathered.problems)
    if form != "plain" or out is not None:
        problems += [f"{one.file}: {one.unreadable}" for one in in_order if one.unreadable is not None]
    for said in (*problems, *_left_out()):
        _say(said)
    sys.exit(_status(in_order, bool(gathered.problems), stop_at))


def _left_out() -> tuple[str, ...]:
    """A line on each plug-in that does not load; where there are none, the rules need not be loaded to tell."""
    from overhaul import entry_points

    if not entry_points.entries():
        return ()
    from overhaul.rules import plug_ins

    return plug_ins.found().left_out


def _results(no_cache: bool) -> Results | None:
    """The results of earlier runs, where they are wanted."""
    if no_cache:
        return None
    from overhaul import cache

    return cache.Results(cache.folder(), _say)


@contextmanager
def _cluster(address: str | None) -> Iterator[Executor | None]:
    """The executor of the cluster at ``address``, or None where none is named."""
    if address is None:
        yield None
        return
    from overhaul import cluster

    try:
        with cluster.executor(address) as found:
            yield found
    except cluster.NoCluster as problem:
        raise _CannotDo(f"--cluster {address}: {problem}") from None


def _write_sheet(sheet: Path, audited: Sequence[Audited], houses: _Houses) -> None:
    from overhaul import house_questions

    found = house_questions.house_questions((one.page, houses.for_path(Path(one.file)), one.findings) for one in audited if one.page is not None and not _is_recipe_file(one.page))
    _write(house_questions.sheet(found), sheet)
    _say(f"{sheet}: {house_questions.told(found)}")


def _hand_over(audited: Sequence[Audited], houses: _Houses, form: str) -> str:
    """The hand-over of every file that was read; the recipes are read again from its page, for an audit keeps their titles only."""
    from overhaul import pipeline, recipe_file
    from overhaul.handing_over import HandOver, hand_over
    from overhaul.output import handoff

    if form in ("sarif", "html"):
        raise _CannotDo("--handoff is told in words or as json")
    found: list[tuple[str, Page, list[HandOver]]] = []
    for one in audited:
        if one.page is None:
            continue
        house = houses.for_path(Path(one.file))
        kept = _kept_on(one.page, house)
        if kept is None:
            recipes = [hand_over(recipe, [each for each in one.findings if each.recipe is None or each.recipe[0] == recipe.index], house) for recipe in pipeline.read_text(one.page, house).recipes]
        else:  # the cook's questions are of the page, and so are all lines here
            recipes = [hand_over(back.recipe, recipe_file.on_its_page(replace(kept, backs=(back,)), house).findings, house) for back in kept.backs]
        found.append((one.file, one.page if kept is None else kept.page, recipes))
    if form == "json":
        from overhaul.output import findings_json

        return findings_json.render(audited, {file: handoff.tree(recipes) for file, _, recipes in found})
    return handoff.render(found, _width())


def _check_copy(copy: Path, files: Sequence[Path]) -> None:
    """A copy is of one recipe, and never takes its place."""
    if len(files) != 1:
        raise _CannotDo(f"--remedied writes a copy of one recipe; these are {len(files)} files")
    if copy.exists() and copy.samefile(files[0]):
        raise _CannotDo(f"{copy}: the recipe itself is never written over; name another file")


def _write_copy(copy: Path, audited: Audited, house: House) -> None:
    from overhaul.remedying import remedied

    if audited.page is None:
        return
    page, findings = audited.page, audited.findings
    if (kept := _kept_on(page, house)) is not None:
        from overhaul import pipeline

        page = kept.page
        findings = pipeline.audit_text(page, house).findings
    done = remedied(page, findings, house)
    _write(done.text, copy)
    _say(f"{copy}: {len(done.settled)} of {len(findings)} findings remedied; {len(done.left)} {'is' if len(done.left) == 1 else 'are'} left to you" + ("; a page in words, not a recipe file" if kept is not None else ""))


def _report(audited: Sequence[Audited], form: str, skipped: int, to_terminal: bool) -> Iterator[str]:
    """The report, part after part: of a large binder the whole would not fit into memory."""
    if form == "json":
        from overhaul.output import findings_json

        return findings_json.parts(audited)
    if form == "sarif":
        from overhaul.output import sarif

        return sarif.parts(audited, __version__)
    from overhaul.output import plain

    return plain.parts(audited, _width(), to_terminal and _colour(), skipped)


def _report_page(audited: Sequence[Audited], houses: _Houses, workers: int, gathered: Binder) -> Iterator[str]:
    """The HTML report in parts; a file that was read and could not be shown is one of the problems."""
    from datetime import date

    from overhaul import showing
    from overhaul.output import report

    def shown() -> Iterator[Audited]:
        given = ((one, houses.for_path(Path(one.file)) if one.page is not None else None) for one in audited)
        for was, one in zip(audited, showing.every(given, workers if len(audited) > _FEW else 1), strict=True):
            if one.unreadable is not None and was.unreadable is None:
                gathered.problems.append(f"{one.file}: {one.unreadable}")
            yield one

    return report.render(shown(), date.today(), gathered.skipped)


def _status(audited: Sequence[Audited], failed: bool, stop_at: str) -> int:
    if failed or any(one.unreadable is not None for one in audited):
        return 2
    if stop_at == "never":
        return 0
    return int(any(_counts(finding, stop_at) for one in audited for finding in one.findings))


def _counts(finding: Finding, stop_at: str) -> bool:
    """Whether ``finding`` is at or above ``stop_at``. What was signed off is settled, but never a certain hazard."""
    signed = finding.signed_off is not None and not finding.signed_off.stale
    return GRADES.index(finding.grade.value) <= GRADES.index(stop_at) and not (signed and not (finding.certain and finding.grade.value == "hazard"))


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@_out_option
@_house_options
def read(file: Path, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """The reading of each line, beside the line."""
    from overhaul.output import read_page

    recipes, _, _ = _recipes(file, house_file, law)
    _write(read_page.render([recipe for recipe, _ in recipes], _width(), out is None and _colour()), out)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--as", "form", type=click.Choice(("plain", "json")), default="plain", help="How to report.")
@click.option("--for", "targets", multiple=True, metavar="FIGURE", help="Weigh out for this: “150 ppm”, “2.5 % salt”, “10 % brine”, “40 F”. Repeat for more.")
@click.option("--cure", metavar="STRENGTH", help="The curing salt in hand: “0.6 % nitrite”, “6.25 % nitrite, 4 % nitrate”.")
@_out_option
@_house_options
def sums(file: Path, form: str, targets: tuple[str, ...], cure: str | None, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """Every sum, worked, with what it assumed; and what to weigh out for a wanted figure."""
    from overhaul.output import sums_page
    from overhaul.sums.asking import asked

    try:
        wanted = asked(targets, cure)
    except ValueError as problem:
        raise _CannotDo(str(problem)) from None
    recipes, _, _ = _recipes(file, house_file, law)
    _write(sums_page.render_json(recipes, wanted) if form == "json" else sums_page.render(recipes, _width(), wanted, ascii=out is None and not _draws()), out)


@main.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--to", "to", type=click.Choice(("yaml", "json", "jsonld", "text", "markdown")), default="yaml", help="The form to give it back in.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of a recipe file instead.")
@_out_option
@_house_options
def convert(file: Path | None, to: str, schema: bool, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """The recipe as structured data, or as a page again; a recipe file is read back."""
    if schema:
        from overhaul.output.clean import as_json
        from overhaul.recipe_file.schema import schema as description

        _write(as_json(description()), out)
        return
    if file is None:
        raise _CannotDo("a file to convert is wanted, or --schema")
    from overhaul.output import convert as forms
    from overhaul.output.clean import shown

    house, raw = _house_and_bytes(file, house_file, law)
    kept = _recipe_file(file, raw, house)
    recipes, page = _recipes_of(file, raw, house, kept)
    if kept is not None and to in ("yaml", "json"):
        from overhaul import recipe_file

        text = recipe_file.again(kept, [sums for _, sums in recipes], to)
    else:
        text = page.text if to == "text" else forms.render(recipes, to, raw, page)
    # A file gets the text to the letter; a terminal, or what a pipe may lead to one, nothing that it would act on.
    _write(text if out is not None else shown(text), out)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--meat", "meats", multiple=True, metavar="MEAT", help="The meat in hand: “2 flats, 9.4 lb, 2.5 inch”. Repeat for more.")
@click.option("--tub", metavar="SIZE", help="The tub to fill: “18 litre”, or a tub of the house sheet. With --meat: this meat in it.")
@click.option("--times", metavar="FACTOR", help="So many times the recipe: “2”, “1 1/2”.")
@click.option("--portions", metavar="PORTIONS", help="To serve so many: “60 at 5 oz”.")
@click.option("--cure", metavar="STRENGTH", help="The curing salt in hand: “0.6 % nitrite”, “6.25 % nitrite, 4 % nitrate”.")
@click.option("--spices", metavar="FACTOR", help="Spices and aromatics by a factor of their own, of the recipe as written; else they go with the meat.")
@click.option("--recipe", "which", type=click.IntRange(min=1), help="Which recipe of a file of several, from 1.")
@click.option("--as", "form", type=click.Choice(("plain", "yaml", "json")), default="plain", help="A card to read, a recipe file, or the same as JSON.")
@_out_option
@_house_options
def batch(file: Path, meats: tuple[str, ...], tub: str | None, times: str | None, portions: str | None, cure: str | None, spices: str | None, which: int | None, form: str, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """The recipe by weight: for this meat, this tub, so many portions, or a factor."""
    from overhaul.batch import NotMade, asked_for, make
    from overhaul.output import batch_page
    from overhaul.sums.work import Sums

    recipes, raw, _ = _recipes(file, house_file, law)
    recipe, sums = _one_of(file, recipes, which)
    try:
        made = make(recipe, sums.house, asked_for(meats, tub, times, portions, cure, spices, sums.house))
    except ValueError as problem:
        raise _CannotDo(str(problem)) from None
    if isinstance(made, NotMade):
        raise _CannotDo(f"{file}: no batch: {made.why}")
    worked = Sums(made.recipe, sums.house)
    _write(batch_page.render(made, _width()) if form == "plain" else batch_page.render_yaml(made, worked, raw) if form == "yaml" else batch_page.render_json(made, worked, raw), out)


def _one_of(file: Path, recipes: list[tuple[Recipe, Sums]], which: int | None) -> tuple[Recipe, Sums]:
    """The recipe asked for; a batch is of one, so that a file of several wants its number."""
    listed = ", ".join(f"{number} {recipe.title}" for number, (recipe, _) in enumerate(recipes, 1))
    if which is None and len(recipes) > 1:
        raise _CannotDo(f"{file}: {len(recipes)} recipes, and a batch is of one; say --recipe with its number: {listed}")
    if which is not None and which > len(recipes):
        raise _CannotDo(f"{file}: no recipe {which}; there are {listed}")
    return recipes[(which or 1) - 1]


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--kind", type=click.Choice(("prep", "card", "labels", "formula")), default="prep", help="Tasks by the clock, batch record, labels, or the sums behind it.")
@click.option("--serve", type=click.DateTime(("%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M")), help="When it is served; the prep sheet works back from there.")
@click.option("--closed", multiple=True, type=click.Choice(WEEKDAYS, case_sensitive=False), help="A day when nobody works. Repeat for more.")
@click.option("--zone", metavar="ZONE", help="The kitchen's time zone (Europe/Berlin), so that a change of the clocks is counted.")
@click.option("--in", "put_in", type=click.DateTime(("%Y-%m-%d",)), help="The day it goes into the cure, for card and labels; else a blank to write on.")
@click.option("--made", type=click.DateTime(("%Y-%m-%d",)), help="The day it is made, counted as the first, for the labels; else a blank to write on.")
@click.option("--as", "form", type=click.Choice(("html", "ics")), default="html", help="A page to print, or the tasks for a calendar.")
@_out_option
@_house_options
def sheet(file: Path, kind: Kind, serve: datetime | None, closed: tuple[str, ...], zone: str | None, put_in: datetime | None, made: datetime | None, form: str, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """What a kitchen works from, to print."""
    from datetime import date

    from overhaul.output import sheets

    if (put_in is not None and kind not in ("card", "labels")) or (made is not None and kind != "labels"):
        raise _CannotDo(f"--in is for --kind card and labels, --made for --kind labels; this is --kind {kind}")
    if kind != "prep" and (serve is not None or closed or zone is not None or form == "ics"):
        raise _CannotDo(f"--serve, --closed, --zone and --as ics are for --kind prep; this is --kind {kind}")
    recipes, _, _ = _recipes(file, house_file, law)
    asked = sheets.Asked(kind, date.today(), serve, closed, zone=zone, put_in=put_in and put_in.date(), made=made and made.date())
    try:
        _write(sheets.render(recipes, asked) if form == "html" else sheets.calendar(recipes, asked), out)
    except sheets.CannotMake as problem:
        raise _CannotDo(f"{file}: {problem}") from None


@main.command()
@click.argument("first", metavar="A", type=click.Path(path_type=Path))
@click.argument("second", metavar="B", type=click.Path(path_type=Path))
@click.option("--as", "form", type=click.Choice(("plain", "json", "html")), default="plain", help="How to show it.")
@_out_option
@_house_options
def compare(first: Path, second: Path, form: str, out: Path | None, house_file: Path | None, law: Law | None) -> None:
    """Two recipes side by side, what differs first; FILE#2 is the second recipe of a file, else the two most alike are compared."""
    from overhaul import comparing, twins
    from overhaul.output import compare_page

    (left, left_file), (right, right_file) = (_one_or_all(path, house_file, law) for path in (first, second))
    mine, other = twins.likest([recipe for recipe, _ in left], [recipe for recipe, _ in right])
    compared = comparing.compare(comparing.side(*left[mine], left_file), comparing.side(*right[other], right_file))
    if form == "html":
        from datetime import date

        _write(compare_page.render_html(compared, date.today()), out)
        return
    _write(compare_page.render_json(compared) if form == "json" else compare_page.render(compared, _width()), out)


def _one_or_all(path: Path, house_file: Path | None, law: Law | None) -> tuple[list[tuple[Recipe, Sums]], str]:
    """The recipes of a file, or the one that ``FILE#2`` asks for; and what to call the file."""
    name, _, number = str(path).rpartition("#")
    if name and number.isdecimal() and not path.exists():
        recipes, _, _ = _recipes(Path(name), house_file, law)
        if not 0 < int(number) <= len(recipes):
            raise _CannotDo(f"{name}: there is no recipe {number} in it; there {'is 1' if len(recipes) == 1 else f'are {len(recipes)}'}")
        return [recipes[int(number) - 1]], str(path)
    recipes, _, _ = _recipes(path, house_file, law)
    return recipes, str(path)


@main.command()
@click.argument("rule", required=False)
@click.option("--as", "form", type=click.Choice(("plain", "markdown")), default="plain", help="How to write it.")
@_out_option
def grounds(rule: str | None, form: str, out: Path | None) -> None:
    """The rules; one rule's grounds."""
    from overhaul.output import grounds as pages
    from overhaul.rules import every_rule

    for said in _left_out():
        _say(said)
    if rule is None:
        _write(pages.index(_width(), markdown=form == "markdown"), out)
        return
    found = next((one for one in every_rule() if one.name == rule), None)
    if found is None:
        raise _CannotDo(f"no rule is called “{rule}”; `overhaul grounds` lists them")
    _write(pages.page(found, _width(), markdown=form == "markdown"), out)


@main.command("serve-editor")
@_house_options
def serve_editor(house_file: Path | None, law: Law | None) -> None:
    """Serve an editor that starts it: a language server on standard input and output."""
    try:
        from overhaul.editor.server import serve
    except ModuleNotFoundError as problem:
        if (problem.name or "").partition(".")[0] not in ("pygls", "lsprotocol"):
            raise
        raise _CannotDo("serving an editor takes a package that is not here; install overhaul[editor]") from None
    if sys.stdin.isatty():
        _say("waiting for an editor on standard input, which starts this by itself; Ctrl-D ends it")
    serve(house_file, law)


class _Houses:
    """House sheets by folder, each read once."""

    def __init__(self, given: Path | None, law: Law | None) -> None:
        self._given = given
        self._law = law
        self._read: dict[Path | None, House] = {}

    def for_path(self, path: Path) -> House:
        from overhaul import binder

        sheet = self._given if self._given is not None else binder.house_sheet_for(path)
        if sheet not in self._read:
            self._read[sheet] = self._load(sheet)
        return self._read[sheet]

    def _load(self, sheet: Path | None) -> House:
        from overhaul.houses import CannotDo, house_of

        try:
            return house_of(sheet, self._law)
        except CannotDo as problem:
            raise _CannotDo(str(problem)) from None


def _house_and_bytes(file: Path, house_file: Path | None, law: Law | None) -> tuple[House, bytes]:
    from overhaul import binder

    house = _Houses(house_file, law).for_path(file)
    try:
        return house, binder.bytes_of(file)
    except (OSError, ValueError) as problem:
        raise _CannotDo(f"{file}: {binder.why(problem)}") from None


def _is_recipe_file(page: Page) -> bool:
    from overhaul import documents

    return documents.recipe_file(page.text.encode("utf-8", "replace"), page.name) is not None


def _kept_on(page: Page, house: House) -> RecipeFile | None:
    """The recipe file that an audit has read as ``page``; None for a page of any other kind. Nothing is taken from the disk twice."""
    from overhaul import recipe_file

    if not _is_recipe_file(page):
        return None
    kept = recipe_file.read(page.text, page.name, house)
    return kept if isinstance(kept, recipe_file.RecipeFile) else None


def _recipe_file(file: Path, raw: bytes, house: House) -> RecipeFile | None:
    """The recipe file, or None for a file of any other kind."""
    from overhaul import documents, recipe_file

    text = documents.recipe_file(raw, str(file))
    if text is None:
        return None
    found = recipe_file.read(text, str(file), house)
    if isinstance(found, documents.Unreadable):
        raise _CannotDo(f"{file}: {found.reason}")
    return found


def _recipes(file: Path, house_file: Path | None, law: Law | None) -> tuple[list[tuple[Recipe, Sums]], bytes, Page]:
    """The recipes of one file with their sums, its bytes, and its page."""
    house, raw = _house_and_bytes(file, house_file, law)
    recipes, page = _recipes_of(file, raw, house, _recipe_file(file, raw, house))
    return recipes, raw, page


def _recipes_of(file: Path, raw: bytes, house: House, kept: RecipeFile | None) -> tuple[list[tuple[Recipe, Sums]], Page]:
    from overhaul import pipeline
    from overhaul.sums.work import Sums

    if kept is not None:
        return [(back.recipe, Sums(back.recipe, house)) for back in kept.backs], kept.page
    found = pipeline.read(raw, str(file), house)
    if found.unreadable is not None or found.page is None:
        raise _CannotDo(f"{file}: {found.unreadable}")
    return [(recipe, Sums(recipe, house)) for recipe in found.recipes], found.page


def _width() -> int:
    if not sys.stdout.isatty():
        return 100
    return max(40, min(shutil.get_terminal_size().columns, 110))


def _draws() -> bool:
    """Whether what is written to can show the characters of a bar."""
    try:
        "├─▓█┤".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _colour() -> bool:
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _write(text: str, out: Path | None) -> None:
    _write_parts([text], out)


def _write_parts(parts: Iterable[str], out: Path | None) -> None:
    """To standard output, or to ``out``: written beside it, then renamed, so that no half file is ever left."""
    if out is None:
        for part in parts:
            sys.stdout.buffer.write(part.encode("utf-8", "replace"))
        sys.stdout.flush()
        return
    from overhaul.binder import why

    try:
        if out.exists() and not stat.S_ISREG(out.stat().st_mode):
            _fill(out, parts)  # a device or a pipe must not be replaced by a file
            return
        target = out.resolve()  # a link stays a link
        beside = target.with_name(f".{target.name}.{os.getpid()}.part")
        try:
            _fill(beside, parts)
            beside.replace(target)
        finally:
            beside.unlink(missing_ok=True)
    except (OSError, ValueError, RuntimeError) as problem:
        raise _CannotDo(f"{out}: not written: {why(problem) if isinstance(problem, (OSError, ValueError)) else problem}") from None


def _fill(file: Path, parts: Iterable[str]) -> None:
    with file.open("wb") as stream:
        for part in parts:
            stream.write(part.encode("utf-8", "replace"))


_REFRESH = 0.1  # seconds; to draw the bar takes as long as to read a page


class _progress:  # noqa: N801 - used as a function
    """A bar on a terminal for long work; nothing in a pipe."""

    def __init__(self, count: int) -> None:
        self._count = count
        self._bar: Any = None

    def __enter__(self) -> Callable[[], None]:
        if self._count < 50 or not sys.stderr.isatty():
            return lambda: None
        from time import monotonic

        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

        # Without a thread of its own, or the worker processes would be split off a program with two threads.
        columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TextColumn("pages, left"), TimeRemainingColumn())
        self._bar = Progress(*columns, console=Console(stderr=True), transient=True, auto_refresh=False)
        self._bar.start()
        task = self._bar.add_task("reading", total=self._count)
        bar, shown = self._bar, monotonic()

        def advance() -> None:
            nonlocal shown
            bar.advance(task)
            if monotonic() - shown > _REFRESH:
                shown = monotonic()
                bar.refresh()

        return advance

    def __exit__(self, *problem: object) -> None:
        if self._bar is not None:
            self._bar.stop()
