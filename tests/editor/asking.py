"""An editor as the tests need it: a real client, and the few things that it does to a text."""

from __future__ import annotations

import asyncio
from typing import Any

from lsprotocol import types
from pytest_lsp import LanguageClient, client_capabilities, make_test_lsp_client

EDITOR = "visual-studio-code"  # whose capabilities the client tells of


def client() -> LanguageClient:
    """A client that lets the server ask to be told of changed files, and keeps what is published in its order."""
    made = make_test_lsp_client()
    made.registered = []  # type: ignore[attr-defined]

    @made.feature(types.CLIENT_REGISTER_CAPABILITY)  # type: ignore[untyped-decorator]
    def registered(params: types.RegistrationParams) -> None:
        made.registered.extend(params.registrations)  # type: ignore[attr-defined]

    return made


def capabilities(*encodings: str, plain: bool = False) -> types.ClientCapabilities:
    """Those of a common editor; with ``plain`` those of one that can do nothing besides."""
    told = types.ClientCapabilities() if plain else client_capabilities(EDITOR)
    if encodings:
        told.general = types.GeneralClientCapabilities(position_encodings=list(encodings))
    return told


class Texts:
    """The texts of one client, and what it asks about them."""

    def __init__(self, lsp: LanguageClient) -> None:
        self.lsp = lsp
        self.version: dict[str, int] = {}

    async def published(self) -> types.PublishDiagnosticsParams:
        told: Any = await asyncio.wait_for(self.lsp.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS), 60)
        return types.PublishDiagnosticsParams(told.uri, told.diagnostics, told.version)

    async def open(self, uri: str, text: str, language: str = "plaintext") -> list[types.Diagnostic]:
        self.version[uri] = 1
        self.lsp.text_document_did_open(types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, language, 1, text)))
        return await self.of(uri)

    async def of(self, uri: str) -> list[types.Diagnostic]:
        while (told := await self.published()).uri != uri:
            pass
        return list(told.diagnostics)

    def type(self, uri: str, text: str) -> None:
        self.version[uri] += 1
        self.lsp.text_document_did_change(types.DidChangeTextDocumentParams(types.VersionedTextDocumentIdentifier(self.version[uri], uri), [types.TextDocumentContentChangeWholeDocument(text)]))

    async def hover(self, uri: str, position: types.Position) -> str | None:
        told = await self.lsp.text_document_hover_async(types.HoverParams(types.TextDocumentIdentifier(uri), position))
        if told is None:
            return None
        assert isinstance(told.contents, types.MarkupContent)
        return told.contents.value

    async def actions(self, uri: str, place: types.Range, only: list[str] | None = None) -> list[types.CodeAction]:
        wanted: Any = only
        told = await self.lsp.text_document_code_action_async(types.CodeActionParams(types.TextDocumentIdentifier(uri), place, types.CodeActionContext([], wanted)))
        return [one for one in told or () if isinstance(one, types.CodeAction)]

    async def symbols(self, uri: str) -> list[Any]:
        return list(await self.lsp.text_document_document_symbol_async(types.DocumentSymbolParams(types.TextDocumentIdentifier(uri))) or ())

    async def completed(self, uri: str, position: types.Position) -> list[types.CompletionItem]:
        told = await self.lsp.text_document_completion_async(types.CompletionParams(types.TextDocumentIdentifier(uri), position))
        return list(told.items) if isinstance(told, types.CompletionList) else list(told or ())


def at(text: str, words: str, end: bool = False) -> types.Position:
    """Where ``words`` begin (or end) in ``text``, in UTF-16."""
    start = text.index(words) + (len(words) if end else 0)
    line = text.rfind("\n", 0, start) + 1
    return types.Position(text.count("\n", 0, start), len(text[line:start].encode("utf-16-le")) // 2)


def edited(text: str, edits: list[types.TextEdit]) -> str:
    """``text`` as an editor has it after ``edits``, which counts in UTF-16."""
    lines = text.split("\n")

    def offset(position: types.Position) -> int:
        return sum(len(line) + 1 for line in lines[: position.line]) + len(lines[position.line].encode("utf-16-le")[: 2 * position.character].decode("utf-16-le"))

    for edit in sorted(edits, key=lambda one: offset(one.range.start), reverse=True):
        text = text[: offset(edit.range.start)] + edit.new_text + text[offset(edit.range.end) :]
    return text
