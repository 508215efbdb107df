"""The rules: an index by family, and one rule's grounds."""

from __future__ import annotations

from overhaul.output.clean import wrapped
from overhaul.output.plain import source_words
from overhaul.rules import FAMILIES, all_rules
from overhaul.rules.rule import Rule


def index(width: int = 100) -> str:
    """Every rule by family, with what it reports."""
    lines: list[str] = []
    for family in FAMILIES:
        lines.append(family.replace("_", " "))
        for rule in all_rules():
            if rule.family == family:
                lines.append(f"  {rule.name}")
                lines.append(wrapped(rule.reports, width, "      "))
        lines.append("")
    lines.append("overhaul grounds RULE gives one rule's grounds.")
    return "\n".join(lines) + "\n"


def page(rule: Rule, width: int = 100) -> str:
    """One rule's grounds."""
    lines = [rule.name, ""]
    for head, text in (("Reports", rule.reports), ("Why", rule.why), ("The sum", rule.sum), ("Stays silent", rule.silent), ("Source", source_words(rule.sources) or "common practice, no source")):
        if text:
            lines += [head, wrapped(text, width, "    "), ""]
    for head, text in (("A text it is silent on", rule.sound), ("A text it speaks of", rule.faulty)):
        lines += [head, *(f"    {line}".rstrip() for line in text.strip("\n").splitlines()), ""]
    place, message = rule.expect
    lines += [f"There it says, at {place}:", wrapped(message, width, "    ")]
    return "\n".join(lines) + "\n"
