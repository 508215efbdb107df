"""Web pages (.html): the recipe as the page tells it to machines, else the words that are seen.

The parser's events are kept as one flat list and no tree is built: a tree of a hostile page is a hundred thousand deep or has a tag of a
million attributes, and parsers stop reading there or take minutes.
"""

from __future__ import annotations

import re

from overhaul.documents.lines import Lines, Refused
from overhaul.documents.outcome import Text, Unreadable
from overhaul.documents.web.differing import otherwise
from overhaul.documents.web.markup import Events, Open, decoded, events_of
from overhaul.documents.web.seen import AROUND, NEVER, PARTS, Line, Seen
from overhaul.documents.web.told import Recipe, from_classes, from_items, from_scripts

_KIND = "a web page"
# Of a page nested to make each part be read once per level.
_MOST_WORK = 3_000_000
_SAYS_YIELD = re.compile(r"(?:yields?|serves|servings|makes)\b", re.IGNORECASE)
_NUMBER = re.compile(r"(?:step\s*)?(\d{1,2})\s*[.):]\s+(?=\S)", re.IGNORECASE)


def read(data: bytes) -> Text | Unreadable:
    """The text of a web page, its recipes first as they are told to machines."""
    try:
        text = decoded(data)
        if isinstance(text, Unreadable):
            return text
        return _Reader(events_of(text)).text()
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except Exception as problem:  # what libxml2 and Python's own readers of hostile markup raise is not told anywhere
        return Unreadable(f"{_KIND} that is damaged ({problem or type(problem).__name__}); save it again, or copy its text into a .txt file")


class _Reader:
    """One page."""

    def __init__(self, events: Events) -> None:
        self.events = events
        self._work = 0
        self._skipped = self._left_out()

    def part(self, at: int) -> list[Line]:
        """The lines of the element that opens at ``at``, whatever it is."""
        event = self.events[at]
        end = event.end if isinstance(event, Open) else at + 1
        self._work += end - at
        if self._work > _MOST_WORK:
            raise Refused("parts nested in parts without end")
        return Seen(self.events, frozenset()).lines(at + 1, end - 1)

    def text(self) -> Text:
        seen = self._seen()
        recipes = self._recipes()
        lines = Lines()
        if recipes and (not seen or all(recipe.whole for recipe in recipes)):
            for place, recipe in enumerate(recipes):
                if place:
                    lines.add("")
                    lines.add("")
                self._write(recipe, lines)
            everything = Seen(self.events, frozenset()).lines(0, len(self.events))
            if other := otherwise([line for recipe in recipes for line in recipe.ingredients], everything):
                lines.gap()
                for line in ("The page itself says:", *other):
                    lines.add(line)
            return lines.text()
        if not any(line.kind == "h" for line in seen) and (title := self._title()):
            lines.add(title)
            lines.gap()
        for each in seen:
            if each.apart:
                lines.gap()
            lines.add(each.text)
        return lines.text()

    def _recipes(self) -> list[Recipe]:
        """The recipes of the first way of telling them that tells each whole, else of the first that tells any."""
        first: list[Recipe] = []
        for way in (from_scripts, from_items, from_classes):
            found = _once(way(self))
            if found and all(recipe.whole for recipe in found):
                return found
            first = first or found
        return first

    def _write(self, recipe: Recipe, lines: Lines) -> None:
        lines.add(recipe.name or self._title())
        lines.gap()
        if recipe.yields:
            told = ", ".join(recipe.yields)
            lines.add(told if _SAYS_YIELD.match(told) else f"Yield: {told}")
        for label, time in recipe.times:
            lines.add(f"{label}: {time}")
        lines.gap()
        if recipe.ingredients:
            lines.add("Ingredients")
            for line in recipe.ingredients:
                lines.add(line)
            lines.gap()
        if recipe.steps:
            lines.add("Method")
        number = 0
        for line, heading in recipe.steps:
            if heading:
                lines.add(f"{line}:")
                continue
            number += 1
            own = _NUMBER.match(line)
            lines.add(f"{number}. {line[own.end() :] if own and int(own[1]) == number else line}")

    def _title(self) -> str:
        for at, event in enumerate(self.events):
            if isinstance(event, Open) and event.tag == "title":
                return " ".join("".join(each for each in self.events[at + 1 : event.end] if isinstance(each, str)).split())
        return ""

    def _seen(self) -> list[Line]:
        """The lines of the page, or of its main part if that holds a third of the words."""
        spans, whole = self._main()
        if 3 * sum(length for *_, length in spans) >= whole > 0:
            lines: list[Line] = []
            for start, end, _ in spans:
                part = Seen(self.events, self._skipped).lines(start, end)
                if part and lines:
                    part[0].apart = True
                lines += part
            return lines
        return Seen(self.events, self._skipped).lines(0, len(self.events)) or Seen(self.events, frozenset()).lines(0, len(self.events))

    def _main(self) -> tuple[list[tuple[int, int, int]], int]:
        """Start, end and letters of each outermost article or main part; the letters of all the page."""
        spans: list[tuple[int, int, int]] = []
        whole = at = end = 0
        while at < len(self.events):
            event = self.events[at]
            if isinstance(event, Open):
                if event.tag in NEVER or event.hidden or (event.tag in self._skipped and not (event.tag == "header" and at < end)):
                    at = event.end
                    continue
                if event.tag in PARTS and at >= end:
                    end = event.end
                    spans.append((at, end, 0))
            elif isinstance(event, str):
                letters = len(event.strip())
                whole += letters
                if at < end:
                    spans[-1] = (spans[-1][0], end, spans[-1][2] + letters)
            at += 1
        return spans, whole

    def _left_out(self) -> frozenset[str]:
        """Which parts around the page are left out: none if nothing would be left, and no form that is half of the page."""
        whole = in_forms = outside = at = 0
        form = around = 0  # where the one that is open ends
        while at < len(self.events):
            event = self.events[at]
            if isinstance(event, Open):
                if event.tag in NEVER or event.hidden:
                    at = event.end
                    continue
                if event.tag == "form":
                    form = max(form, event.end)
                elif event.tag in AROUND:
                    around = max(around, event.end)
            elif isinstance(event, str):
                letters = len(event.strip())
                whole += letters
                in_forms += letters if at < form else 0
                outside += letters if at >= form and at >= around else 0
            at += 1
        if not outside and not in_forms:
            return frozenset()
        if 2 * in_forms >= whole:
            return AROUND - {"form"}
        return AROUND if outside else frozenset()


def _once(recipes: list[Recipe]) -> list[Recipe]:
    """Each recipe once: pages tell theirs twice where two programs wrote them."""
    found: list[Recipe] = []
    for recipe in recipes:
        if recipe not in found[-100:]:
            found.append(recipe)
    return found
