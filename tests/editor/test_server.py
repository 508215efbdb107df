"""The language server, asked by a real client over its standard input and output."""

from __future__ import annotations

import asyncio
import os
import sys
from pathlib import Path

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient, client_capabilities

from tests.conftest import CORPUS

BACON = (CORPUS / "bacon-with-the-wrong-cure.txt").read_text("utf-8")
CONFIG = ClientServerConfig(server_command=[sys.executable, "-m", "overhaul", "serve-editor"], server_env=dict(os.environ))


@pytest_lsp.fixture(config=CONFIG)
async def client(lsp_client: LanguageClient):  # type: ignore[no-untyped-def]
    await lsp_client.initialize_session(types.InitializeParams(capabilities=client_capabilities("visual-studio-code"), root_uri=None))
    yield
    await lsp_client.shutdown_session()


async def opened(client: LanguageClient, uri: str, text: str, language: str = "plaintext") -> list[types.Diagnostic]:
    client.text_document_did_open(types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, language, 1, text)))
    await asyncio.wait_for(client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS), 60)
    return list(client.diagnostics[uri])


def at(text: str, words: str) -> types.Position:
    start = text.index(words)
    return types.Position(text.count("\n", 0, start), start - (text.rfind("\n", 0, start) + 1))


@pytest.mark.asyncio
async def test_findings_stand_at_their_figures_and_are_changed_by_their_remedies(client: LanguageClient, tmp_path: Path) -> None:
    uri = (tmp_path / "bacon.txt").as_uri()
    found = await opened(client, uri, BACON)
    assert [(one.code, one.severity, one.source) for one in found] == [
        ("curing-salt-over-limit", types.DiagnosticSeverity.Error, "overhaul"), ("nitrate-in-bacon", types.DiagnosticSeverity.Error, "overhaul"), ("keeps-too-long", types.DiagnosticSeverity.Warning, "overhaul"),
    ]  # fmt: skip
    assert found[0].range == types.Range(types.Position(5, 0), types.Position(5, 4))
    fixes = await client.text_document_code_action_async(types.CodeActionParams(types.TextDocumentIdentifier(uri), found[0].range, types.CodeActionContext(found)))
    assert fixes
    told = await client.text_document_hover_async(types.HoverParams(types.TextDocumentIdentifier(uri), at(BACON, "cure #2")))
    assert told is not None
    assert isinstance(told.contents, types.MarkupContent)
    assert "nitrite direct" in told.contents.value
    symbols = await client.text_document_document_symbol_async(types.DocumentSymbolParams(types.TextDocumentIdentifier(uri)))
    assert symbols
    assert symbols[0].name == "BACON - DRY RUB"


@pytest.mark.asyncio
async def test_columns_count_units_of_utf_16_and_absent_things_stand_at_line_ends(client: LanguageClient, tmp_path: Path) -> None:
    text = "Corned flat\n\n4 lb brisket flat\n🧂🧂 1 lb salt, 2 lb cure #1\n1 gal water\n\nCure 3 days at 60 F.\n"
    uri = (tmp_path / "flat.txt").as_uri()
    found = await opened(client, uri, text)
    over = next(one for one in found if one.code == "curing-salt-over-limit")
    assert over.range.start == types.Position(3, text.splitlines()[3].index("2 lb") + 2)
