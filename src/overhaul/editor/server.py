"""The language server: what an editor tells and asks, over standard input and output. The only importer of pygls.

An editor opens a text, and sends the whole of it again when it was changed; a short while after the last key it is looked at, in a
thread of its own, one text at a time. Nothing is ever written: what is to be changed, the editor changes.
"""

from __future__ import annotations

import asyncio
import logging
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from lsprotocol import types
from msgspec import Struct
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer
from pygls.uris import to_fs_path

from overhaul import __version__, binder
from overhaul.editor import actions, completion, diagnostics, hover, symbols
from overhaul.editor.looking import Kind, Looked, Problem, kind_of, look, look_at_sheet
from overhaul.editor.positions import Positions
from overhaul.house import House, Law
from overhaul.houses import CannotDo, house_of
from overhaul.text import Page, Place

WAIT = 0.3  # seconds without a key before a text is looked at
_SHEETS = f"**/{binder.HOUSE_SHEET}"


class Open(Struct):
    """One text in the editor. ``looked`` : what is known of ``version``, once it was looked at; ``sheet`` the state of its house sheet then."""

    uri: str
    path: str | None
    language: str
    version: int | None
    text: str
    looked: tuple[int | None, Looked] | None = None
    sheet: object = None
    waiting: asyncio.Task[None] | None = None

    @property
    def name(self) -> str:
        return self.path or self.uri

    @property
    def kind(self) -> Kind | None:
        return kind_of(self.name, self.language, self.text)


class Server(LanguageServer):
    """The texts that are open, and the house sheets they stand under."""

    def __init__(self, house_file: Path | None = None, law: Law | None = None) -> None:
        super().__init__("overhaul", __version__, text_document_sync_kind=types.TextDocumentSyncKind.Full)
        self.texts: dict[str, Open] = {}
        self._house_file = house_file
        self._law: Law | None = law
        self._looking = ThreadPoolExecutor(1, "looking")
        self._houses: dict[object, House | CannotDo] = {}

    def report_server_error(self, error: Exception, source: Any) -> None:
        """What an editor said that cannot be made sense of goes into its log, and interrupts nobody."""
        self.window_log_message(types.LogMessageParams(types.MessageType.Error, f"{type(error).__name__}: {error}"))

    def positions(self, page: Page) -> Positions:
        return Positions(page, self.workspace.position_encoding or types.PositionEncodingKind.Utf16)

    # -- looking

    def look_soon(self, text: Open, wait: float = WAIT) -> None:
        """Look at ``text`` once nothing has happened to it for ``wait`` seconds, and tell the editor what is found."""
        if text.waiting is not None:
            text.waiting.cancel()
        text.waiting = asyncio.ensure_future(self._look_and_tell(text, wait))

    async def _look_and_tell(self, text: Open, wait: float) -> None:
        await asyncio.sleep(wait)
        version = text.version
        looked = await self.looked(text)
        if self.texts.get(text.uri) is not text or text.version != version:
            return  # closed meanwhile, or changed: what was found is of a text that is no more
        found = diagnostics.diagnostics(looked, self.positions(looked.page)) if looked is not None else []
        self.text_document_publish_diagnostics(types.PublishDiagnosticsParams(text.uri, found, version))

    async def looked(self, text: Open) -> Looked | None:
        """What is known of the text as it is now; None for what is no recipe."""
        kind = text.kind
        if kind is None:
            return None
        sheet, state = self._sheet(text)
        if text.looked is not None and text.looked[0] == text.version and text.sheet == state:
            return text.looked[1]
        version, words, name = text.version, text.text, text.name
        found = await asyncio.get_running_loop().run_in_executor(self._looking, self._look, words, name, kind, sheet, state)
        if text.version == version:
            text.looked, text.sheet = (version, found), state
        return found

    def _look(self, words: str, name: str, kind: Kind, sheet: Path | None, state: object) -> Looked:
        if kind == "house sheet":
            return look_at_sheet(words, name)
        if state not in self._houses:
            self._houses.clear() if len(self._houses) > 100 else None
            try:
                self._houses[state] = house_of(sheet, self._law)
            except CannotDo as problem:
                self._houses[state] = problem
        house = self._houses[state]
        if isinstance(house, CannotDo):
            return Looked(page := Page(words, name), problem=Problem(Place(0, page.lines[0].place.end), f"Its house sheet cannot stand, so it is not judged: {house}."))
        return look(words, name, kind, house)

    def _sheet(self, text: Open) -> tuple[Path | None, object]:
        """The house sheet of a text, and what tells that it has changed since."""
        if self._house_file is None and text.path is None:
            return None, None
        sheet = self._house_file or binder.house_sheet_for(Path(text.path or ""))
        if sheet is None:
            return None, None
        try:
            at = sheet.stat()
        except (OSError, ValueError):
            return sheet, (sheet, None)
        return sheet, (sheet, at.st_mtime_ns, at.st_size, at.st_ino)

    # -- what the editor can do

    def can(self, *path: str) -> bool:
        """Whether the editor said that it can do this."""
        here: Any = self.client_capabilities
        for step in path:
            here = getattr(here, step, None)
        return bool(here)

    def takes_markdown(self) -> bool:
        told = self.client_capabilities.text_document
        return told is not None and told.hover is not None and types.MarkupKind.Markdown in (told.hover.content_format or ())


def _path(uri: str) -> str | None:
    try:
        return to_fs_path(uri)
    except ValueError:
        return None


async def _initialized(server: Server, params: types.InitializedParams) -> None:
    """Ask to be told when a house sheet changes, and tell of plug-ins that are left out."""
    from overhaul.rules import plug_ins

    left_out = await asyncio.get_running_loop().run_in_executor(server._looking, lambda: plug_ins.found().left_out)
    for line in left_out:
        server.window_show_message(types.ShowMessageParams(types.MessageType.Warning, f"overhaul: {line}"))
    if server.can("workspace", "did_change_watched_files", "dynamic_registration"):
        watched = types.DidChangeWatchedFilesRegistrationOptions([types.FileSystemWatcher(_SHEETS)])
        wanted = types.RegistrationParams([types.Registration("house-sheets", types.WORKSPACE_DID_CHANGE_WATCHED_FILES, watched)])
        try:
            await server.client_register_capability_async(wanted)
        except JsonRpcException as problem:  # it said that it can; a saved sheet is seen all the same
            server.report_server_error(problem, JsonRpcException)


async def _opened(server: Server, params: types.DidOpenTextDocumentParams) -> None:
    given = params.text_document
    text = server.texts[given.uri] = Open(given.uri, _path(given.uri), given.language_id, given.version, given.text)
    server.look_soon(text, 0)


async def _changed(server: Server, params: types.DidChangeTextDocumentParams) -> None:
    text = server.texts.get(params.text_document.uri)
    if text is None or not params.content_changes:
        return
    text.text, text.version = params.content_changes[-1].text, params.text_document.version
    server.look_soon(text)


async def _saved(server: Server, params: types.DidSaveTextDocumentParams) -> None:
    """A house sheet that was saved counts from now on; not every editor tells of changed files besides."""
    text = server.texts.get(params.text_document.uri)
    if text is not None and text.kind == "house sheet":
        _look_at_all(server)


async def _closed(server: Server, params: types.DidCloseTextDocumentParams) -> None:
    text = server.texts.pop(params.text_document.uri, None)
    if text is None:
        return
    if text.waiting is not None:
        text.waiting.cancel()
    server.text_document_publish_diagnostics(types.PublishDiagnosticsParams(text.uri, []))


async def _files_changed(server: Server, params: types.DidChangeWatchedFilesParams) -> None:
    _look_at_all(server)


def _look_at_all(server: Server) -> None:
    for text in server.texts.values():
        server.look_soon(text, 0)


async def _hover(server: Server, params: types.HoverParams) -> types.Hover | None:
    found = await _now(server, params.text_document.uri)
    if found is None:
        return None
    looked, positions = found
    offset = positions.offset(params.position)
    markdown = server.takes_markdown()
    return await asyncio.get_running_loop().run_in_executor(server._looking, lambda: hover.hover(looked, positions, offset, markdown=markdown))


async def _actions(server: Server, params: types.CodeActionParams) -> list[types.CodeAction]:
    only = params.context.only
    if only is not None and not any(types.CodeActionKind.QuickFix == kind or types.CodeActionKind.QuickFix.startswith(f"{kind}.") or kind == "" for kind in only):
        return []
    found = await _now(server, params.text_document.uri)
    if found is None:
        return []
    looked, positions = found
    text = server.texts[params.text_document.uri]
    return actions.actions(
        looked, positions, positions.place(params.range), text.uri, text.version,
        versioned=server.can("workspace", "workspace_edit", "document_changes"), told=server.can("text_document", "code_action", "disabled_support"),
    )  # fmt: skip


async def _symbols(server: Server, params: types.DocumentSymbolParams) -> list[types.DocumentSymbol] | list[types.SymbolInformation]:
    found = await _now(server, params.text_document.uri)
    if found is None:
        return []
    made = symbols.symbols(*found)
    return made if server.can("text_document", "document_symbol", "hierarchical_document_symbol_support") else symbols.flat(made, params.text_document.uri)


async def _completion(server: Server, params: types.CompletionParams) -> types.CompletionList:
    """From the text as it is, read or not: it is asked for at every key."""
    text = server.texts.get(params.text_document.uri)
    if text is None or text.kind is None or text.kind == "house sheet":
        return types.CompletionList(is_incomplete=False, items=[])
    names = text.looked[1].house.names if text.looked is not None else {}
    positions = server.positions(Page(text.text, text.name))
    return completion.completion(positions, positions.offset(params.position), names, recipe_file=text.kind == "recipe file")


async def _now(server: Server, uri: str) -> tuple[Looked, Positions] | None:
    """What is known of the text as it is now, or None for one that is not open or is no recipe."""
    text = server.texts.get(uri)
    if text is None:
        return None
    looked = await server.looked(text)
    if looked is None or server.texts.get(uri) is not text or looked.page.text != text.text:
        return None  # closed or changed while it was looked at: an answer would be for another text
    return looked, server.positions(looked.page)


_FEATURES: dict[str, tuple[Callable[..., Any], Any]] = {
    types.INITIALIZED: (_initialized, None),
    types.TEXT_DOCUMENT_DID_OPEN: (_opened, None),
    types.TEXT_DOCUMENT_DID_CHANGE: (_changed, None),
    types.TEXT_DOCUMENT_DID_SAVE: (_saved, None),
    types.TEXT_DOCUMENT_DID_CLOSE: (_closed, None),
    types.WORKSPACE_DID_CHANGE_WATCHED_FILES: (_files_changed, None),
    types.TEXT_DOCUMENT_HOVER: (_hover, None),
    types.TEXT_DOCUMENT_CODE_ACTION: (_actions, types.CodeActionOptions([types.CodeActionKind.QuickFix])),
    types.TEXT_DOCUMENT_DOCUMENT_SYMBOL: (_symbols, None),
    types.TEXT_DOCUMENT_COMPLETION: (_completion, None),
}


def made(house_file: Path | None = None, law: Law | None = None) -> Server:
    """A server with all that it answers."""
    server = Server(house_file, law)
    for name, (answer, options) in _FEATURES.items():
        server.feature(name, options)(_bound(server, answer))
    return server


def _bound(server: Server, answer: Callable[..., Any]) -> Callable[..., Any]:
    async def given(params: Any) -> Any:
        return await answer(server, params)

    return given


def serve(house_file: Path | None = None, law: Law | None = None) -> None:
    """Serve the editor at the other end of standard input and output until it hangs up."""
    logging.basicConfig(stream=sys.stderr, level=logging.ERROR)
    out = sys.stdout.buffer
    sys.stdout = sys.stderr  # whatever is printed, by a plug-in perhaps, is no message to the editor
    made(house_file, law).start_io(sys.stdin.buffer, out)
