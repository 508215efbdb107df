"""Remedies as changes that an editor makes when it is told to."""

from __future__ import annotations

from lsprotocol import types

from overhaul.editor.diagnostics import diagnostic
from overhaul.editor.looking import Looked
from overhaul.editor.positions import Positions
from overhaul.findings import Finding
from overhaul.output.clean import clean
from overhaul.text import Place

_LONGEST_TITLE = 120
_WORDS_ONLY = "This remedy is for the cook: there is nothing to weigh or to replace that arithmetic could settle."


def actions(looked: Looked, positions: Positions, place: Place, uri: str, version: int | None, *, versioned: bool = True, told: bool = False) -> list[types.CodeAction]:
    """A quick fix for every finding that touches ``place`` and has a remedy.

    ``versioned`` : the editor takes changes for one version of a document and for no other. ``told`` : it shows fixes that cannot be
    made, with the reason; a remedy in words only is one of them.
    """
    found = []
    for finding in looked.findings:
        if finding.remedy is None or not _touches(finding, place, looked):
            continue
        if finding.remedy.edits:
            found.append(_fix(finding, positions, uri, version, versioned))
        elif told:
            found.append(types.CodeAction(_title(finding), kind=types.CodeActionKind.QuickFix, diagnostics=[diagnostic(finding, positions)], disabled=types.CodeActionDisabled(_WORDS_ONLY)))
    return found


def _touches(finding: Finding, place: Place, looked: Looked) -> bool:
    """Whether the two share a character or an end; of something absent, whether they share a line."""
    if finding.absent:
        line = looked.page.lines[looked.page.line_at(finding.place.start) - 1].place
        return line.start <= place.end and place.start <= line.end
    return finding.place.start <= place.end and place.start <= finding.place.end


def _fix(finding: Finding, positions: Positions, uri: str, version: int | None, versioned: bool) -> types.CodeAction:
    assert finding.remedy is not None
    edits = [types.TextEdit(positions.range(edit.place), edit.new) for edit in finding.remedy.edits]
    if versioned:
        document = types.TextDocumentEdit(types.OptionalVersionedTextDocumentIdentifier(uri, version), list(edits))
        change = types.WorkspaceEdit(document_changes=[document])
    else:
        change = types.WorkspaceEdit(changes={uri: edits})
    return types.CodeAction(_title(finding), kind=types.CodeActionKind.QuickFix, diagnostics=[diagnostic(finding, positions)], edit=change)


def _title(finding: Finding) -> str:
    """The remedy in one line; the whole of it stands in the diagnostic."""
    words = clean(finding.remedy.text if finding.remedy is not None else "")
    return words if len(words) <= _LONGEST_TITLE else words[: _LONGEST_TITLE - 1].rstrip() + "…"
