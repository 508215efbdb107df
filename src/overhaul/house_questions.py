"""The questions that a house sheet would settle, over a whole binder: each answer is tried, and what is asked no more is counted."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from overhaul.findings import Finding, Grade
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.span import Span
from overhaul.text import Page

Asked = tuple[Page, House, tuple[Finding, ...]]


class _Answer(Struct, frozen=True):
    """One question of the house sheet: its words, the line that would answer it, and houses that have answered, one for each answer there is.

    ``under`` : the key of the sheet that the line stands under, where several answers share one.
    """

    question: str
    line: str
    answers: tuple[dict[str, object], ...]
    under: str | None = None


_QUESTIONS = (
    _Answer(
        "Which kosher salt does the house use?", "salt: {kosher: dense rolled}  # or: light flake",
        ({"salt_kinds": {"kosher": "kosher_dense_rolled"}}, {"salt_kinds": {"kosher": "kosher_light_flake"}}),
    ),
    _Answer("What does the label of curing salt no. 1 say?", "cure1: {nitrite: 6.25}", ({"strengths": {"cure1": {"nitrite": 6.25}}},), "curing_salts"),
    _Answer("What does the label of curing salt no. 2 say?", "cure2: {nitrite: 6.25, nitrate: 4}", ({"strengths": {"cure2": {"nitrite": 6.25, "nitrate": 4.0}}},), "curing_salts"),
    _Answer("What does the label of the ready-mixed cure say?", "ready-mix: {nitrite: 0.6}", ({"strengths": {"ready-mix": {"nitrite": 0.6}}},), "curing_salts"),
    _Answer("How hot is the smoker run?", "smoker: {low: 225, high: 250, unit: degF}", ({"smoker": Span(225, 237.5, 250)}, {"smoker": Span(180, 190, 200)})),
    _Answer("How cold is the cooler?", "cooler: {low: 36, high: 38, unit: degF}", ({"cooler": Span(36, 37, 38)},)),
    _Answer("How cold is the ice when it goes in?", "ice: {low: 0, high: 10, unit: degF}", ({"ice": Span(0, 5, 10)}, {"ice": Span(30, 31, 32)})),
    _Answer("Is it served or sold, or for the house?", "sold: true  # or: false", ({"sold": True}, {"sold": False})),
)  # fmt: skip


class HouseQuestion(Struct, frozen=True):
    """A question, the line that answers it, how many queries it settles whatever the answer is, and on which pages."""

    question: str
    line: str
    settles: int
    pages: tuple[str, ...]
    under: str | None = None


def house_questions(asked: Iterable[Asked]) -> list[HouseQuestion]:
    """Those that settle anything, most first. ``asked`` : each page with its house sheet and its findings."""
    open_ = [(page, house, findings) for page, house, findings in asked if any(one.grade is Grade.QUERY for one in findings)]
    found = []
    for one in _QUESTIONS:
        settled = {page.name: count for page, house, findings in open_ if (count := _settled(page, house, findings, one))}
        if settled:
            found.append(HouseQuestion(one.question, one.line, sum(settled.values()), tuple(settled), one.under))
    return sorted(found, key=lambda one: -one.settles)


def _settled(page: Page, house: House, findings: tuple[Finding, ...], one: _Answer) -> int:
    """The queries of this page that are gone whichever of the answers it is; 0 where its house sheet has answered already."""
    if any(getattr(house, field) not in (None, {}) and _told(getattr(house, field), value) for answer in one.answers for field, value in answer.items()):
        return 0
    now = _queries(findings)
    left = [_queries(audit_text(page, _answered(house, answer)).findings) for answer in one.answers]
    return sum(min(count - each[rule] for each in left) for rule, count in now.items() if all(each[rule] < count for each in left))


def _told(known: object, value: object) -> bool:
    return not isinstance(known, dict) or not isinstance(value, dict) or bool(known.keys() & value.keys())


def _answered(house: House, answer: dict[str, object]) -> House:
    """``house`` with one more answer; what it says of other salts and cures stays."""
    merged = {field: {**getattr(house, field), **value} if isinstance(value, dict) else value for field, value in answer.items()}
    return replace(house, **merged)


def _queries(findings: Iterable[Finding]) -> Counter[str]:
    return Counter(one.rule for one in findings if one.grade is Grade.QUERY)


def asked_most(findings: Iterable[tuple[str, Finding]]) -> str | None:
    """``2 answers in a house sheet settle 9 queries in 5 recipes: salt.kosher (7), smoker (2)``; None where none is settled.

    ``findings`` : each with its file. Nothing is tried here, the rules say what would answer them.
    """
    queries: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for file, one in findings:
        if one.settled_by is not None and one.signed_off is None:
            queries[one.settled_by].append((file, one.recipe[0] if one.recipe is not None else 0))
    if not queries:
        return None
    count, recipes = sum(map(len, queries.values())), len({each for asked in queries.values() for each in asked})
    most = ", ".join(f"{key} ({len(asked)})" for key, asked in sorted(queries.items(), key=lambda one: (-len(one[1]), one[0])))
    return f"{_answers(len(queries), 'in a house sheet ')} {_queries_told(count)} in {recipes} {'recipe' if recipes == 1 else 'recipes'}: {most}"


def _answers(count: int, where: str = "") -> str:
    return f"1 answer {where}settles" if count == 1 else f"{count} answers {where}settle"


def _queries_told(count: int) -> str:
    return f"{count} {'query' if count == 1 else 'queries'}"


def told(questions: list[HouseQuestion]) -> str:
    """``2 answers settle 9 queries in 5 recipes``."""
    count, settles, pages = len(questions), sum(one.settles for one in questions), len({page for one in questions for page in one.pages})
    if not count:
        return "no answer of a house sheet settles any query here"
    return f"{_answers(count)} {_queries_told(settles)} on {pages} {'page' if pages == 1 else 'pages'}"


def sheet(questions: list[HouseQuestion]) -> str:
    """A house sheet with the questions as comments: it says nothing until a # is taken away."""
    lines = ["## House sheet: take the one # off a line when what it says is true of this kitchen.", f"## {told(questions)[0].upper()}{told(questions)[1:]}.", ""]
    for one in questions:
        if one.under is None:
            lines += [*_asked(one), f"# {one.line}", ""]
        elif (key := f"# {one.under}:") not in lines:
            lines.append(key)
            for other in questions:
                if other.under == one.under:
                    lines += [*_asked(other), f"#   {other.line}"]
            lines.append("")
    return "\n".join(lines)


def _asked(one: HouseQuestion) -> list[str]:
    return [f"## {one.question} Settles {one.settles} on {', '.join(one.pages)}."]
