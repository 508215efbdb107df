"""Pages of HTML, whole in one file: what comes from a recipe is escaped, and its control characters are made visible.

The templates stand in ``templates/``. No page asks anything of a network, and none needs a script to be read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from overhaul.output.clean import clean
from overhaul.output.plain import CAUTION


def page(template: str, **told: Any) -> str:
    """``template`` of the folder filled with ``told``; a name it wants and is not told raises ``jinja2.UndefinedError``."""
    return _environment().get_template(template).render(caution=CAUTION, **told)


def closed_up(template: str, **told: Any) -> str:
    """``page`` for a part of a large file: without the line ends between its tags, each of which a browser would keep as a piece of text."""
    return _BETWEEN.sub("><", page(template, **told))


def stream(template: str, **told: Any) -> Iterator[str]:
    """``page`` in parts, each made when it is asked for."""
    yield from _environment().get_template(template).generate(caution=CAUTION, **told)


def markup(text: str) -> Markup:
    """What a template of ours has made already, to stand in another."""
    return Markup(text)


def raw(name: str) -> Markup:
    """A file of the folder, to the letter: a script's hash is of its letters."""
    environment = _environment()
    assert environment.loader is not None
    return Markup(environment.loader.get_source(environment, name)[0].strip())


def day(when: date) -> str:
    """``Thu 24 Dec 2026``, whatever the locale."""
    return f"{_DAYS[when.weekday()]} {when.day} {_MONTHS[when.month - 1]} {when.year}"


_BETWEEN = re.compile(r">\s*\n\s*<")
_DAYS = "Mon Tue Wed Thu Fri Sat Sun".split()
_MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()


def _shown(value: object) -> object:
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value


@cache
def _environment() -> Environment:
    environment = Environment(loader=PackageLoader("overhaul.output"), autoescape=True, undefined=StrictUndefined, finalize=_shown, trim_blocks=True, lstrip_blocks=True)
    environment.filters["day"] = day
    return environment
