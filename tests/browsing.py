"""A page opened in a real browser: Debian's Chromium, without a window."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from msgspec import Struct

PHONE, TABLET, DESK = (360, 740), (820, 1180), (1280, 900)


class Seen(Struct):
    """What the browser had to say of a page."""

    complaints: list[str]  # of the console, and of scripts that fail
    asked: list[str]  # every address asked for, but the page's own
    wider: list[str]  # what stands out over the page's right edge
    barriers: list[str]  # serious and critical violations of axe-core, "rule: what"


@contextmanager
def chromium() -> Iterator[Any]:
    """The browser. Without one the test is skipped, and fails where CI=true is set, for there it has to be."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        if os.environ.get("CI"):
            pytest.fail("no Chromium here; .ci/run installs it")
        pytest.skip("no Chromium here (Debian: apt-get install chromium)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=path, args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


def look(browser: Any, file: Path, size: tuple[int, int] = DESK, *, dark: bool = False, printed: bool = False, axe: bool = True, picture: Path | None = None) -> Seen:
    """``file`` as it is seen at ``size``. ``picture`` : where to put a screenshot for a person to look at."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, color_scheme="dark" if dark else "light", bypass_csp=axe)
    try:
        tab = context.new_page()
        seen = Seen([], [], [], [])
        tab.on("console", lambda said: seen.complaints.append(said.text) if said.type in ("error", "warning") else None)
        tab.on("pageerror", lambda problem: seen.complaints.append(str(problem)))
        address = file.resolve().as_uri()
        tab.on("request", lambda request: seen.asked.append(request.url) if request.url != address and not request.url.startswith("data:") else None)
        if printed:
            tab.emulate_media(media="print")
        tab.goto(address)
        seen.wider = tab.evaluate(_WIDER)
        if picture is not None:
            tab.screenshot(path=str(picture), full_page=True)
        if axe:
            import axe_core_python

            tab.evaluate((Path(axe_core_python.__file__).parent / "axe.min.js").read_text("utf-8"))
            found = tab.evaluate("axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']})")
            seen.barriers = [f"{one['id']}: {node['html'][:120]}" for one in found["violations"] if one["impact"] in ("serious", "critical") for node in one["nodes"]]
        return seen
    finally:
        context.close()


_WIDER = """() => {
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= wide) return [];
  return [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > wide + 1).slice(0, 10).map(e => e.outerHTML.slice(0, 120));
}"""
