"""The language server, asked by a real client over its standard input and output."""

from __future__ import annotations

import asyncio
import json
import os
import subprocess
import sys
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

import overhaul
from tests.conftest import CORPUS
from tests.editor.asking import Texts, at, capabilities, client, edited

BACON = (CORPUS / "bacon-with-the-wrong-cure.txt").read_text("utf-8")
FLAT = "Corned flat\n\n4 lb brisket flat, 2 in thick\n1 gal water\n1 lb salt\ncure #1 🧂🧂, 2 lb\n\nCure 🧂 tre\u0300s 3 days at 60 F.\nCook to 203 F.\n"
CONFIG = ClientServerConfig(server_command=[sys.executable, "-m", "overhaul", "serve-editor"], server_env=dict(os.environ), client_factory=client)
E, W, I = types.DiagnosticSeverity.Error, types.DiagnosticSeverity.Warning, types.DiagnosticSeverity.Information  # noqa: E741


@pytest_lsp.fixture(config=CONFIG)  # type: ignore[untyped-decorator]
async def editor(lsp: LanguageClient) -> AsyncIterator[None]:
    await lsp.initialize_session(types.InitializeParams(capabilities=capabilities()))
    yield
    await lsp.shutdown_session()


@pytest_lsp.fixture(config=CONFIG)  # type: ignore[untyped-decorator]
async def plain_editor(lsp: LanguageClient) -> AsyncIterator[None]:
    await lsp.initialize_session(types.InitializeParams(capabilities=capabilities("utf-32", plain=True)))
    yield
    await lsp.shutdown_session()


def told(found: list[types.Diagnostic]) -> list[tuple[Any, Any, str]]:
    return [(one.code, one.severity, f"{one.range.start.line}:{one.range.start.character}-{one.range.end.character}") for one in found]


# Findings.


@pytest.mark.asyncio
async def test_findings_stand_at_their_figures_with_grade_rule_sum_and_source(editor: LanguageClient, tmp_path: Path) -> None:
    found = await Texts(editor).open((tmp_path / "bacon.txt").as_uri(), BACON)
    assert told(found) == [("curing-salt-over-limit", E, "5:0-4"), ("nitrate-in-bacon", E, "5:5-12"), ("keeps-too-long", W, "10:49-56")]
    assert {one.source for one in found} == {"overhaul"}
    assert [one.code_description for one in found] == [None] * 3
    first, *rest = found[0].message.split("\n")
    assert first.startswith("Certain hazard: 354 to 391 ppm (likely 391) nitrite")
    assert [line.partition(":")[0] for line in rest] == ["Sum", "Source", "Remedy"]


@pytest.mark.asyncio
async def test_columns_count_units_of_utf_16_and_what_is_absent_stands_at_a_line_end(editor: LanguageClient, tmp_path: Path) -> None:
    found = await Texts(editor).open((tmp_path / "flat.txt").as_uri(), FLAT)
    over = next(one for one in found if one.code == "curing-salt-over-limit")
    assert over.range == types.Range(at(FLAT, "2 lb"), at(FLAT, "2 lb", end=True))
    assert over.range.start.character == 14
    warm = next(one for one in found if one.code == "cured-too-warm")
    assert (warm.range, warm.range.start.character) == (types.Range(at(FLAT, "60 F"), at(FLAT, "60 F", end=True)), 24)
    audited = overhaul.audit(FLAT)
    absent = {one.rule: audited.page.line_at(one.place.start) for one in audited.findings if one.absent and audited.page is not None}
    assert absent
    for one in found:
        if one.code in absent:
            line = one.range.start.line
            assert line == absent[str(one.code)] - 1
            assert one.range.start == one.range.end == types.Position(line, len(FLAT.split("\n")[line].encode("utf-16-le")) // 2)


@pytest.mark.asyncio
async def test_an_editor_that_counts_otherwise_and_can_do_little_is_served_too(plain_editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(plain_editor), (tmp_path / "flat.txt").as_uri()
    found = await texts.open(uri, FLAT)
    over = next(one for one in found if one.code == "curing-salt-over-limit")
    assert over.range.start.character == FLAT.split("\n")[5].index("2 lb")
    shown = await texts.hover(uri, over.range.start)
    assert shown is not None
    assert "**" not in shown
    fix = (await texts.actions(uri, over.range))[0]
    assert fix.edit is not None
    assert fix.edit.document_changes is None
    assert list(fix.edit.changes or ()) == [uri]
    symbols = await texts.symbols(uri)
    assert {type(one) for one in symbols} == {types.SymbolInformation}


@pytest.mark.asyncio
async def test_while_somebody_types_only_the_last_text_is_told_of(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "bacon.txt").as_uri()
    await texts.open(uri, BACON)
    for length in range(len(BACON) - 8, len(BACON)):
        texts.type(uri, BACON[:length])
    texts.type(uri, "Brine\n\n1 lb salt\n1 gal water\n")
    published = await texts.published()
    assert (published.version, [one.severity for one in published.diagnostics if one.severity == E]) == (texts.version[uri], [])


@pytest.mark.asyncio
async def test_a_closed_text_keeps_no_findings(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "bacon.txt").as_uri()
    await texts.open(uri, BACON)
    editor.text_document_did_close(types.DidCloseTextDocumentParams(types.TextDocumentIdentifier(uri)))
    assert await texts.of(uri) == []
    assert await texts.hover(uri, types.Position(5, 0)) is None


@pytest.mark.asyncio
async def test_a_sign_off_is_a_hint_but_never_on_a_certain_hazard(editor: LanguageClient, tmp_path: Path) -> None:
    text = BACON + '\nSigned off: keeps-too-long on "3 weeks", M.K., 2026-11-02: sold within the week\nSigned off: nitrate-in-bacon on "cure #2", M.K., 2026-11-02: so\n'
    found = {one.code: one for one in await Texts(editor).open((tmp_path / "bacon.txt").as_uri(), text)}
    assert found["keeps-too-long"].severity == types.DiagnosticSeverity.Hint
    assert found["keeps-too-long"].message.endswith("\nSigned off by M.K., 2026-11-02: sold within the week")
    assert found["nitrate-in-bacon"].severity == E


# Remedies, hover, outline, completion.


@pytest.mark.asyncio
async def test_every_remedy_with_an_edit_is_a_fix_of_this_version_and_settles_its_finding(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "flat.txt").as_uri()
    await texts.open(uri, "\n")
    texts.type(uri, FLAT)
    found = await texts.of(uri)
    audited = overhaul.audit(FLAT)
    wanted = sorted(one.remedy.text for one in audited.findings if one.remedy is not None and one.remedy.edits)
    whole = types.Range(types.Position(0, 0), types.Position(99, 0))
    fixes = [one for one in await texts.actions(uri, whole) if one.edit is not None]
    assert len(fixes) == len(wanted) > 0
    for fix in fixes:
        assert (fix.kind, len(fix.diagnostics or ())) == (types.CodeActionKind.QuickFix, 1)
        assert fix.diagnostics is not None
        assert fix.diagnostics[0] in found
        (change,) = fix.edit.document_changes or () if fix.edit is not None else ()
        assert isinstance(change, types.TextDocumentEdit)
        assert (change.text_document.uri, change.text_document.version) == (uri, texts.version[uri])
        after = edited(FLAT, [one for one in change.edits if isinstance(one, types.TextEdit)])
        assert after != FLAT
        assert [one.rule for one in overhaul.audit(after).findings].count(str(fix.diagnostics[0].code)) < [one.code for one in found].count(fix.diagnostics[0].code)
    assert await texts.actions(uri, types.Range(types.Position(1, 0), types.Position(1, 0))) == []
    assert await texts.actions(uri, whole, ["refactor"]) == []
    assert await texts.actions(uri, whole, ["quickfix"])


@pytest.mark.asyncio
async def test_a_remedy_in_words_only_is_shown_with_the_reason(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "bacon.txt").as_uri()
    await texts.open(uri, BACON)
    assert editor.capabilities is not None
    told_why = [one for one in await texts.actions(uri, types.Range(types.Position(0, 0), types.Position(99, 0))) if one.disabled is not None]
    words = [one.remedy.text for one in overhaul.audit(BACON).findings if one.remedy is not None and not one.remedy.edits]
    assert len(told_why) == len(words)


@pytest.mark.asyncio
async def test_hover_tells_the_reading_the_grams_and_the_sums(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "bacon.txt").as_uri()
    await texts.open(uri, BACON)
    shown = await texts.hover(uri, at(BACON, "cure #2"))
    assert shown is not None
    assert shown.startswith("**cure \\#2**\n\ncure \\#2 \\[cure2\\]\\; 1 ounce\\; \\= 28\\.3 g\n\n")
    assert "- **nitrite direct**: 354 to 391 ppm \\(likely 391\\)\n" in shown
    assert "Decision support only" in shown
    keeps = await texts.hover(uri, at(BACON, "3 weeks"))
    assert keeps is not None
    assert "storage\\: 21 days\\, kept cold" in keeps
    assert "**keeping**" in keeps
    assert "**cooling**" not in keeps  # which stands on the same line
    assert await texts.hover(uri, types.Position(1, 0)) is None
    title = await texts.hover(uri, types.Position(0, 2))
    assert title is not None
    assert title.startswith("**BACON \\- DRY RUB**\n\nread as bacon")


@pytest.mark.asyncio
async def test_nothing_a_recipe_holds_acts_in_a_hover_or_a_finding(editor: LanguageClient, tmp_path: Path) -> None:
    text = "![x](http://example.org/x.png) <b>\n\n4 lb pork belly ![y](command:z)\n\x1b[2J2 oz cure #1 `a`\n\nCure 3 days.\n"
    texts, uri = Texts(editor), (tmp_path / "odd.txt").as_uri()
    for one in await texts.open(uri, text):
        assert "\x1b" not in one.message
    for line in (0, 2, 3):
        shown = await texts.hover(uri, types.Position(line, 8)) or ""
        assert not any(marks in shown for marks in ("![", "](", "<b>", "\x1b", " `"))


@pytest.mark.asyncio
async def test_the_outline_has_sections_and_steps(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "flat.txt").as_uri()
    await texts.open(uri, FLAT)
    (recipe,) = await texts.symbols(uri)
    assert (recipe.name, recipe.kind, recipe.detail) == ("Corned flat", types.SymbolKind.Class, "corned beef")
    assert [(one.name, one.detail) for one in recipe.children] == [("Ingredients", "4 ingredients"), ("Cure 🧂 tre\u0300s 3 days at 60 F.", "cure"), ("Cook to 203 F.", "cook")]
    for one in recipe.children:
        assert one.range.start.line <= one.selection_range.start.line <= one.selection_range.end.line <= one.range.end.line


@pytest.mark.asyncio
async def test_units_are_offered_behind_a_figure_and_names_elsewhere(editor: LanguageClient, tmp_path: Path) -> None:
    text = "Brine\n\n2 tab\nsome koshe\n1 \n"
    texts, uri = Texts(editor), (tmp_path / "brine.txt").as_uri()
    await texts.open(uri, text)
    behind = await texts.completed(uri, at(text, "2 tab", end=True))
    assert behind[0].label == "tablespoons"
    assert isinstance(behind[0].text_edit, types.TextEdit)
    assert behind[0].text_edit.range == types.Range(types.Position(2, 2), types.Position(2, 5))
    assert "table salt" in [one.label for one in behind]
    names = await texts.completed(uri, at(text, "koshe", end=True))
    assert "kosher salt" in [one.label for one in names]
    assert {one.detail for one in names} == {"salt"}
    assert {"cups", "pounds", "grams", "gallons"} <= {one.label for one in await texts.completed(uri, types.Position(4, 2))}
    assert await texts.completed(uri, types.Position(1, 0)) == []


# Recipe files and house sheets.


@pytest.mark.asyncio
async def test_a_recipe_file_is_served_on_its_own_lines(editor: LanguageClient, tmp_path: Path) -> None:
    text = overhaul.convert(BACON)
    texts, uri = Texts(editor), (tmp_path / "bacon.yaml").as_uri()
    found = await texts.open(uri, text, "yaml")
    assert {one.code for one in found} == {"curing-salt-over-limit", "nitrate-in-bacon", "keeps-too-long"}
    over = next(one for one in found if one.code == "curing-salt-over-limit")
    assert "ounce" in text.split("\n")[over.range.start.line]
    shown = await texts.hover(uri, over.range.start)
    assert shown is not None
    assert "nitrite direct" in shown
    (recipe,) = await texts.symbols(uri)
    assert recipe.name == "BACON - DRY RUB"
    assert len(recipe.children) == len(overhaul.read(BACON)[0].steps) + 1
    half = text.replace("role: cure2", "role: cure", 1)
    texts.type(uri, half)
    await texts.of(uri)
    assert {"cure1", "cure2"} <= {one.label for one in await texts.completed(uri, at(half, "role: cure\n", end=True) if "role: cure\n" in half else at(half, "role: cure,", end=True))} or "role: cure" in half
    texts.type(uri, text + "\n  - [half a li")
    broken = await texts.of(uri)
    assert [(one.severity, one.code) for one in broken] == [(E, None)]
    assert broken[0].range.start.line >= text.count("\n")


@pytest.mark.asyncio
async def test_the_house_sheet_beside_a_text_counts_and_is_read_again_when_it_changes(editor: LanguageClient, tmp_path: Path) -> None:
    text = "Corned flat\n\n5 lb brisket flat, 1 3/4 in thick\n8 lb cold water\n1 1/2 cups kosher salt\n15 g cure #1\n\nRefrigerate at 38 F for 12 days, turning daily.\n"
    texts, uri = Texts(editor), (tmp_path / "flat.txt").as_uri()
    without = await texts.open(uri, text)
    assert "salt-not-weighed" in [one.code for one in without]
    assert [one.method for one in editor.registered] == [types.WORKSPACE_DID_CHANGE_WATCHED_FILES]  # type: ignore[attr-defined]

    async def changed(sheet: str) -> list[types.Diagnostic]:
        (tmp_path / "house.yaml").write_text(sheet, "utf-8")
        event = types.FileEvent((tmp_path / "house.yaml").as_uri(), types.FileChangeType.Changed)
        editor.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams([event]))
        return await texts.of(uri)

    assert "salt-not-weighed" not in [one.code for one in await changed("salt: {kosher: dense rolled}\n")]
    (broken,) = await changed("kitchen: ours\nsalt: 7\n")
    assert (broken.severity, broken.range.start) == (E, types.Position(0, 0))
    assert broken.message == f"Its house sheet cannot stand, so it is not judged: {tmp_path}/house.yaml:2: salt: keys and values in it."
    assert told(await changed("{}\n")) == told(without)


@pytest.mark.asyncio
async def test_a_house_sheet_that_is_written_on_is_told_its_line(editor: LanguageClient, tmp_path: Path) -> None:
    texts, uri = Texts(editor), (tmp_path / "house.yaml").as_uri()
    (found,) = await texts.open(uri, "kitchen: ours\nlaw: moon\n", "yaml")
    assert (found.severity, found.range.start.line, found.message) == (E, 1, "Law: one of us, eu, uk, ca, au-nz, not 'moon'.")
    texts.type(uri, "kitchen: ours\nlaw: eu\n")
    assert await texts.of(uri) == []


# Anything at all.

ANYTHING = {
    "nothing": "", "blanks": " \n\t\n\r\n", "a huge line": "1 lb salt and " * 4000, "half a line": "Brine\n\n2 1/", "NUL": "1 lb \0 salt\n", "half a character": "1 lb \\ud800 salt\n",
    "only marks": "\u0301\u0301\u202e🧂\u200d🧂", "carriage returns": "Brine\r\r1 lb salt\r1 gal water", "line separators": "Brine\u2028\u20281 lb salt\x0b1 gal water\x85\n", "a mark first": "\ufeffBrine\n\n1 lb salt\n",
}  # fmt: skip


@pytest.mark.asyncio
@pytest.mark.parametrize("name", ["page.txt", "page.yaml", "house.yaml"])
async def test_any_text_is_served_under_any_cursor(editor: LanguageClient, tmp_path: Path, name: str) -> None:
    texts, uri = Texts(editor), (tmp_path / name).as_uri()
    await texts.open(uri, "x\n")
    for text in ANYTHING.values():
        texts.type(uri, ("format: overhaul/1\n" if name == "page.yaml" else "") + text)
        await texts.of(uri)
        for position in (types.Position(0, 0), types.Position(0, 7), types.Position(2, 1), types.Position(10**6, 10**6)):
            await texts.hover(uri, position)
            await texts.completed(uri, position)
            await texts.actions(uri, types.Range(position, position))
        await texts.symbols(uri)
    assert editor.messages == []


@pytest.mark.asyncio
async def test_what_is_unknown_or_no_recipe_is_answered_with_nothing(editor: LanguageClient, tmp_path: Path) -> None:
    texts = Texts(editor)
    for uri in ((tmp_path / "never-opened.txt").as_uri(), "untitled:Untitled-1", "nothing", "file:///%00", "http://[bad"):
        assert await texts.hover(uri, types.Position(0, 0)) is None
        assert await texts.symbols(uri) == []
    for name, language in (("README.md", "markdown"), ("data.yaml", "yaml"), ("page.html", "html"), ("code.py", "python"), ("a.expect.txt", "plaintext")):
        assert await texts.open((tmp_path / name).as_uri(), BACON, language) == [], name
    assert "curing-salt-over-limit" in [one.code for one in await texts.open("untitled:Untitled-1", BACON)]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.asyncio
async def test_a_text_too_long_for_every_key_says_so(editor: LanguageClient, tmp_path: Path) -> None:
    (found,) = await Texts(editor).open((tmp_path / "long.txt").as_uri(), "1 lb salt\n" * 60_000)
    assert found.message == "Longer than 500,000 characters, too long to be read at every key; use `overhaul audit`."


# The program itself.


def talk(*messages: dict[str, Any]) -> tuple[list[dict[str, Any]], subprocess.CompletedProcess[bytes]]:
    """What the server says to ``messages``, and its end."""
    sent = b"".join(f"Content-Length: {len(body)}\r\n\r\n".encode() + body for body in (json.dumps({"jsonrpc": "2.0", **message}).encode() for message in messages))
    done = subprocess.run([sys.executable, "-m", "overhaul", "serve-editor"], input=sent, capture_output=True, timeout=60, check=False)
    said, rest = [], done.stdout
    while rest:
        head, _, rest = rest.partition(b"\r\n\r\n")
        length = int(next(line.split(b":")[1] for line in head.split(b"\r\n") if line.lower().startswith(b"content-length")))
        said.append(json.loads(rest[:length]))
        rest = rest[length:]
    return said, done


def test_it_says_what_it_can_do_and_formatting_is_not_of_it() -> None:
    (answer, *_), done = talk({"id": 1, "method": "initialize", "params": {"processId": None, "rootUri": None, "capabilities": {}}}, {"id": 2, "method": "shutdown"}, {"method": "exit"})
    can = answer["result"]["capabilities"]
    wanted = {"hoverProvider", "codeActionProvider", "documentSymbolProvider", "completionProvider", "executeCommandProvider"}
    assert {name for name, value in can.items() if name.endswith("Provider") and value not in (None, False)} == wanted
    assert can["executeCommandProvider"] == {"commands": []}  # the package announces it; there are none
    assert (can["textDocumentSync"]["change"], can["positionEncoding"]) == (1, "utf-16")
    assert answer["result"]["serverInfo"] == {"name": "overhaul", "version": overhaul.__version__}
    assert done.returncode == 0


def test_it_ends_when_the_editor_hangs_up() -> None:
    said, done = talk()
    assert (said, done.returncode) == ([], 0)


@pytest.mark.parametrize("missing", ["pygls", "lsprotocol"])
def test_without_its_package_it_says_what_to_install(missing: str) -> None:
    code = f"import sys; sys.modules[{missing!r}] = None; from overhaul.cli import main; main(['serve-editor'])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (2, "", "overhaul: serving an editor takes a package that is not here; install overhaul[editor]\n")


@pytest.mark.asyncio
async def test_what_a_plug_in_prints_is_no_message(tmp_path: Path) -> None:
    from tests.test_plug_ins import GOOD, distribution

    distribution(tmp_path / "site", "rules-of-ours", "print('chatter')\n" + GOOD)
    distribution(tmp_path / "site", "rules-of-others", "raise ImportError('no scale')\n")
    path = os.pathsep.join([str(tmp_path / "site"), os.environ.get("PYTHONPATH", "")])
    lsp = await ClientServerConfig(server_command=CONFIG.server_command, server_env={**os.environ, "PYTHONPATH": path}, client_factory=client).start()
    assert isinstance(lsp, LanguageClient)
    await lsp.initialize_session(types.InitializeParams(capabilities=capabilities()))
    found = await Texts(lsp).open((tmp_path / "belly.txt").as_uri(), "Rub\n\n5 lb pork belly\n5.5 g cure #1\n")
    assert "ask-the-owner" in [one.code for one in found]
    await asyncio.sleep(0)
    assert [one.message for one in lsp.messages] == ["overhaul: the plug-in “house” of rules-of-others 0.3 is left out: ImportError: no scale"]
    await lsp.shutdown_session()
