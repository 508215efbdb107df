"""Findings as an editor shows them beside the text."""

from __future__ import annotations

from lsprotocol import types

from overhaul.editor.looking import Looked
from overhaul.editor.positions import Positions
from overhaul.findings import Finding, Grade
from overhaul.output.clean import clean
from overhaul.output.plain import grade_words, source_words

SOURCE = "overhaul"
_SEVERITY = {Grade.HAZARD: types.DiagnosticSeverity.Error, Grade.FAULT: types.DiagnosticSeverity.Warning, Grade.QUERY: types.DiagnosticSeverity.Information}


def diagnostics(looked: Looked, positions: Positions) -> list[types.Diagnostic]:
    """Every finding, or the one reason why there are none."""
    if looked.problem is not None:
        return [types.Diagnostic(positions.range(looked.problem.place), clean(looked.problem.words), severity=types.DiagnosticSeverity.Error, source=SOURCE)]
    return [diagnostic(finding, positions) for finding in looked.findings]


def diagnostic(finding: Finding, positions: Positions) -> types.Diagnostic:
    """One finding. Its sources have no address of their own, and stand in the message in words."""
    return types.Diagnostic(positions.range(finding.place), _message(finding), severity=_severity(finding), code=finding.rule, source=SOURCE)


def _severity(finding: Finding) -> types.DiagnosticSeverity:
    """By its grade; what a cook has signed off is settled, and only hinted at, but never a certain hazard."""
    signed = finding.signed_off is not None and not finding.signed_off.stale
    if signed and not (finding.certain and finding.grade is Grade.HAZARD):
        return types.DiagnosticSeverity.Hint
    return _SEVERITY[finding.grade]


def _message(finding: Finding) -> str:
    words = grade_words(finding)
    which = f" in “{clean(finding.recipe[1])}”" if finding.recipe is not None else ""
    lines = [f"{words[0].upper()}{words[1:]}{which}: {clean(finding.message)}"]
    if finding.sum is not None:
        lines.append(f"Sum: {clean(finding.sum)}")
    if finding.sources:
        lines.append(f"Source: {source_words(finding.sources)}")
    if finding.remedy is not None:
        lines.append(f"Remedy: {clean(finding.remedy.text)}")
    if finding.signed_off is not None:
        stale = " (stale: those words no longer stand there)" if finding.signed_off.stale else ""
        lines.append(f"Signed off by {clean(finding.signed_off.by)}, {clean(finding.signed_off.date)}: {clean(finding.signed_off.reason)}{stale}")
    return "\n".join(lines)
