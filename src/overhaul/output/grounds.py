"""The rules: an index by family, and one rule's grounds; for the terminal, and in Markdown."""

from __future__ import annotations

from overhaul import facts
from overhaul.findings import Cite
from overhaul.output.clean import clean, wrapped
from overhaul.output.plain import source_words
from overhaul.rules import FAMILIES, across, all_rules, plug_ins
from overhaul.rules.rule import Rule

_NO_WORK = "common practice, no source"
_NO_SOURCES = ("common-practice", "own-model")
# How far a figure was checked, as facts/ has it.
_STATUS = {
    "seen": "read there", "seen-2nd": "seen second-hand", "memory": "from memory", "mixed": "partly read there, partly from memory", "computed": "computed",
    "derived": "worked from what was read there", "assumed": "assumed", "common-practice": "common practice",
}  # fmt: skip


def index(width: int = 100, *, markdown: bool = False) -> str:
    """Every rule by family, with what it reports."""
    lines: list[str] = ["# The rules", ""] if markdown else []
    groups = [(family.replace("_", " "), [rule for rule in all_rules() if rule.family == family]) for family in FAMILIES]
    groups.append(("across pages", list(across.RULES)))
    for words, rules in groups + _plugged_in():
        lines += [f"## {words[0].upper()}{words[1:]}", ""] if markdown else [words]
        for rule in rules:
            lines += [f"- **{rule.name}**: {clean(rule.reports)}"] if markdown else [f"  {rule.name}", wrapped(clean(rule.reports), width, "      ")]
        lines.append("")
    if not markdown:
        lines.append("overhaul grounds RULE gives one rule's grounds.")
    return "\n".join(lines).rstrip("\n") + "\n"


def _plugged_in() -> list[tuple[str, list[Rule]]]:
    """The rules of each distribution that brings some."""
    groups: dict[str, list[Rule]] = {}
    for one in plug_ins.found().plug_ins:
        groups.setdefault(f"from the plug-in {clean(one.distribution)}", []).append(one.rule)
    return list(groups.items())


def page(rule: Rule, width: int = 100, *, markdown: bool = False) -> str:
    """One rule's grounds."""
    return _in_markdown(rule) if markdown else _in_words(rule, width)


def _parts(rule: Rule) -> list[tuple[str, str]]:
    told = (("From the plug-in", plug_ins.whose(rule)), ("Reports", rule.reports), ("Why", rule.why), ("The sum", rule.sum), ("Stays silent", rule.silent))
    return [(head, text) for head, text in told if text]


def _in_words(rule: Rule, width: int) -> str:
    lines = [rule.name, ""]
    for head, text in _parts(rule):
        lines += [head, wrapped(text, width, "    "), ""]
    lines += ["Sources", *(wrapped(source, width, "    ") for source in _sources(rule)), ""]
    for head, text in (("A text it is silent on", rule.sound), ("A text it speaks of", rule.faulty)):
        lines += [head, *(f"    {line}".rstrip() for line in text.strip("\n").splitlines()), ""]
    place, message = rule.expect
    lines += [f"There it says, at {place}:", wrapped(message, width, "    ")]
    return "\n".join(lines) + "\n"


def _in_markdown(rule: Rule) -> str:
    lines = [f"# {rule.name}", ""]
    for head, text in _parts(rule):
        lines += [f"## {head}", "", text, ""]
    lines += ["## Sources", "", *(f"- {source}" for source in _sources(rule)), ""]
    for head, text in (("A text it is silent on", rule.sound), ("A text it speaks of", rule.faulty)):
        lines += [f"## {head}", "", "````text", text.strip("\n"), "````", ""]
    place, message = rule.expect
    lines += [f"There it says, at {place}:", "", f"> {message}"]
    return "\n".join(lines) + "\n"


def _sources(rule: Rule) -> list[str]:
    """Each source with how far its figures were checked."""
    about = f"{rule.name} {rule.reports} {rule.sum}".lower()
    return [f"{source_words([cite])}{_checked(cite, about)}" for cite in rule.sources] or [_NO_WORK]


def _checked(cite: Cite, about: str) -> str:
    """``: read there`` for the figures of this source that the rule is about, of this part of it where there are any."""
    others = [agent for agent in ("nitrite", "nitrate", "accelerator") if agent not in about]
    rows = [fact for name in (*facts.TABLES, "rules", "sums") for fact in facts.table(name).values() if fact.source == cite.key and not any(agent in fact.name for agent in others)]
    own = [fact for fact in rows if cite.where and (fact.where.startswith(cite.where) or cite.where.startswith(fact.where))] or rows
    told = dict.fromkeys(_STATUS[fact.status] for fact in own)
    return f": {', '.join(told)}" if told and cite.key not in _NO_SOURCES else ""
