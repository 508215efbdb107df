"""The command line: arguments, then the pipeline, then a report and an exit status.

0 nothing at or above ``--stop-at``, 1 something, 2 something could not be done. Imports are made where they are
needed: start-up is what a single check costs.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from overhaul import __version__

if TYPE_CHECKING:
    from overhaul.house import House
    from overhaul.pipeline import Audited
    from overhaul.recipe.model import Recipe
    from overhaul.sums.work import Sums

LAWS = ("us", "eu", "uk", "ca", "au-nz")
GRADES = ("hazard", "fault", "query", "never")


class _CannotDo(click.ClickException):
    """Something that could not be done: a clear message and exit status 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        click.echo(f"overhaul: {self.format_message()}", err=True)


def _house_options(command: Callable[..., Any]) -> Callable[..., Any]:
    command = click.option("--law", type=click.Choice(LAWS), help="Whose limits to check against.")(command)
    return click.option("--house", "house_file", type=click.Path(path_type=Path), help="The house sheet to use.")(command)


def _out_option(command: Callable[..., Any]) -> Callable[..., Any]:
    return click.option("--out", type=click.Path(path_type=Path), help="Write to this file instead.")(command)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="overhaul")
def main() -> None:
    """Read cured-meat recipes as they are written, work their sums, and report line by line.

    Decision support only: local food code, the kitchen's food-safety plan and a licensed or qualified person decide.
    """


@main.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--as", "form", type=click.Choice(("plain", "json", "sarif")), default="plain", help="How to report.")
@click.option("--stop-at", type=click.Choice(GRADES), default="hazard", help="Exit status 1 from this grade up.")
@click.option("--workers", type=click.IntRange(min=1), default=1, help="How many processes to use.")
@click.option("--no-cache", is_flag=True, help="Work everything anew (nothing is kept yet).")
@_out_option
@_house_options
def audit(paths: tuple[Path, ...], form: str, stop_at: str, workers: int, no_cache: bool, out: Path | None, house_file: Path | None, law: str | None) -> None:
    """Findings for files and folders."""
    import gc

    from overhaul import binder

    # Nothing here lives in cycles for long; collecting after every few hundred objects costs a tenth of the time.
    gc.set_threshold(50_000)
    gathered = binder.gather(paths)
    houses = _Houses(house_file, law)
    audited: list[Audited] = []
    tasks: list[tuple[str, str, House]] = []
    for path in gathered.files:
        try:
            house = houses.for_path(path)
        except _CannotDo as problem:
            gathered.problems.append(problem.format_message())
            continue
        if str(path) == "-":
            audited.append(binder.audit_bytes(sys.stdin.buffer.read(), "-", house))
        else:
            tasks.append((str(path), str(path), house))
    with _progress(len(tasks)) as advance:
        for one in binder.audits(tasks, workers):
            audited.append(one)
            advance()
    _write(_report(audited, form, gathered.skipped, out is None), out)
    for said in gathered.problems:
        click.echo(f"overhaul: {said}", err=True)
    if form != "plain":
        for one in audited:
            if one.unreadable is not None:
                click.echo(f"overhaul: {one.file}: {one.unreadable}", err=True)
    sys.exit(_status(audited, bool(gathered.problems), stop_at))


def _report(audited: list[Audited], form: str, skipped: int, to_terminal: bool) -> str:
    if form == "json":
        from overhaul.output import findings_json

        return findings_json.render(audited)
    if form == "sarif":
        from overhaul.output import sarif

        return sarif.render(audited, __version__)
    from overhaul.output import plain

    return plain.render(audited, _width(), to_terminal and _colour(), skipped)


def _status(audited: list[Audited], failed: bool, stop_at: str) -> int:
    if failed or any(one.unreadable is not None for one in audited):
        return 2
    if stop_at == "never":
        return 0
    return int(any(GRADES.index(finding.grade.value) <= GRADES.index(stop_at) for one in audited for finding in one.findings))


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@_out_option
@_house_options
def read(file: Path, out: Path | None, house_file: Path | None, law: str | None) -> None:
    """The reading of each line, beside the line."""
    from overhaul.output import read_page

    recipes, _ = _recipes(file, house_file, law)
    _write(read_page.render([recipe for recipe, _ in recipes], _width()), out)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--as", "form", type=click.Choice(("plain", "json")), default="plain", help="How to report.")
@_out_option
@_house_options
def sums(file: Path, form: str, out: Path | None, house_file: Path | None, law: str | None) -> None:
    """Every sum, worked, with what it assumed."""
    from overhaul.output import sums_page

    recipes, _ = _recipes(file, house_file, law)
    _write(sums_page.render_json(recipes) if form == "json" else sums_page.render(recipes, _width()), out)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--to", "to", type=click.Choice(("yaml", "json")), default="yaml", help="The form to give it back in.")
@_out_option
@_house_options
def convert(file: Path, to: str, out: Path | None, house_file: Path | None, law: str | None) -> None:
    """The recipe as structured data."""
    from overhaul.output import convert as forms

    recipes, raw = _recipes(file, house_file, law)
    _write(forms.render(recipes, to, raw), out)


@main.command()
@click.argument("rule", required=False)
@_out_option
def grounds(rule: str | None, out: Path | None) -> None:
    """The rules; one rule's grounds."""
    from overhaul.output import grounds as pages
    from overhaul.rules import all_rules

    if rule is None:
        _write(pages.index(_width()), out)
        return
    found = next((one for one in all_rules() if one.name == rule), None)
    if found is None:
        raise _CannotDo(f"no rule is called “{rule}”; `overhaul grounds` lists them")
    _write(pages.page(found, _width()), out)


class _Houses:
    """House sheets by folder, each read once."""

    def __init__(self, given: Path | None, law: str | None) -> None:
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
        from overhaul.house import House

        house = House()
        if sheet is not None:
            from overhaul.house_sheet import BadSheet, read_sheet

            try:
                house = read_sheet(sheet.read_text("utf-8"))
            except BadSheet as problem:
                raise _CannotDo(f"{sheet}:{problem.line}: {problem.problem}") from None
            except UnicodeDecodeError:
                raise _CannotDo(f"{sheet}: a house sheet must be UTF-8 text") from None
            except OSError as problem:
                raise _CannotDo(f"{sheet}: {problem.strerror}") from None
        return replace(house, law=self._law) if self._law is not None else house  # type: ignore[arg-type]


def _recipes(file: Path, house_file: Path | None, law: str | None) -> tuple[list[tuple[Recipe, Sums]], bytes]:
    from overhaul import documents
    from overhaul.recipe import read_page
    from overhaul.sums.work import Sums

    house = _Houses(house_file, law).for_path(file)
    try:
        raw = sys.stdin.buffer.read() if str(file) == "-" else file.read_bytes()
    except IsADirectoryError:
        raise _CannotDo(f"{file}: a folder; this command takes one file") from None
    except OSError as problem:
        raise _CannotDo(f"{file}: {problem.strerror}") from None
    page = documents.read(raw, str(file))
    if isinstance(page, documents.Unreadable):
        raise _CannotDo(f"{file}: {page.reason}")
    recipes = read_page(page, house)
    if not recipes:
        raise _CannotDo(f"{file}: an empty page: nothing to read")
    return [(recipe, Sums(recipe, house)) for recipe in recipes], raw


def _width() -> int:
    if not sys.stdout.isatty():
        return 100
    return max(40, min(os.get_terminal_size().columns, 110))


def _colour() -> bool:
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def _write(text: str, out: Path | None) -> None:
    """To standard output, or to ``out``: written beside it, then renamed, so that no half file is ever left."""
    if out is None:
        sys.stdout.buffer.write(text.encode("utf-8", "replace"))
        sys.stdout.flush()
        return
    beside = out.with_name(f".{out.name}.{os.getpid()}.part")
    try:
        beside.write_text(text, "utf-8")
        beside.replace(out)
    except OSError as problem:
        beside.unlink(missing_ok=True)
        raise _CannotDo(f"{out}: {problem.strerror}") from None


class _progress:  # noqa: N801 - used as a function
    """A bar on a terminal for long work; nothing in a pipe."""

    def __init__(self, count: int) -> None:
        self._count = count
        self._bar: Any = None

    def __enter__(self) -> Callable[[], None]:
        if self._count < 50 or not sys.stderr.isatty():
            return lambda: None
        from rich.console import Console
        from rich.progress import Progress

        self._bar = Progress(console=Console(stderr=True), transient=True)
        self._bar.start()
        task = self._bar.add_task("reading", total=self._count)
        bar = self._bar

        def advance() -> None:
            bar.advance(task)

        return advance

    def __exit__(self, *problem: object) -> None:
        if self._bar is not None:
            self._bar.stop()
