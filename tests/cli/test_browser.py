"""A page in a browser: nothing wrong is told, it fits a phone and paper, and it can be read in any light.

Where there is no browser, that is said and nothing is asserted.
"""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pages import read_page

NAMES = ("chromium", "chromium-browser", "google-chrome")
#: The least contrast of letters to what is behind them, and that of large ones (WCAG 2, 1.4.3).
LEAST_CONTRAST = 4.5
#: Width of a phone, of A4 between its margins, and of a desk's screen [px].
PHONE, PAPER, DESK = 360, 702, 1200
#: Shows pages of several widths side by side and tells what they measure.
MEASURING = """<!DOCTYPE html><meta charset="utf-8"><pre id="told"></pre><script>
const pages = %s, told = [];
const light = text => {
  const parts = text.match(/[\\d.]+/g).map(Number).slice(0, 3).map(part => {
    part /= 255; return part <= 0.03928 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4; });
  return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]; };
const behind = element => {
  for (; element; element = element.parentElement) {
    const colour = getComputedStyle(element).backgroundColor;
    if (colour !== "rgba(0, 0, 0, 0)") return colour; }
  return "rgb(255, 255, 255)"; };
const contrast = element => {
  const style = getComputedStyle(element), picture = element.closest("svg");
  const over = light(picture ? style.fill : style.color), under = light(picture ? "rgb(255, 255, 255)" : behind(element));
  return (Math.max(over, under) + 0.05) / (Math.min(over, under) + 0.05); };
const measure = frame => {
  const inside = frame.contentDocument, root = inside.documentElement;
  const bare = [...inside.body.querySelectorAll("*")].filter(element =>
    !element.closest("desc, title") && [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim()));
  const counts = {};
  for (const element of inside.querySelectorAll("*"))
    counts[element.localName] = (counts[element.localName] || 0) + 1;
  const cut = [...inside.querySelectorAll("table, figure")].filter(element =>
    element.getBoundingClientRect().right > root.clientWidth + 0.5).length;
  return {width: root.clientWidth, wide: root.scrollWidth, least: Math.min(...bare.map(contrast)), counts, cut}; };
for (const [width, text] of pages) {
  const frame = document.createElement("iframe");
  frame.style.cssText = `border: 0; height: 800px; width: ${width}px`;
  frame.onload = () => { told.push(measure(frame));
    if (told.length === pages.length) document.getElementById("told").textContent = JSON.stringify(told); };
  frame.srcdoc = text; document.body.append(frame); }
</script>"""


@pytest.fixture(scope="module")
def browse(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Give a function that opens a file in a headless browser."""
    browser = next(filter(None, map(shutil.which, NAMES)), None)
    if browser is None:
        pytest.skip(f"NO BROWSER HERE: no page was looked at. None of {', '.join(NAMES)} is on PATH")
    home = tmp_path_factory.mktemp("browser")

    def run(file: Path, *options: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
             "--no-first-run", f"--user-data-dir={home}", "--enable-logging=stderr", *options, file.as_uri()],
            capture_output=True, text=True, timeout=300, check=True, stdin=subprocess.DEVNULL,
        )  # fmt: skip

    return run


@pytest.fixture(scope="module")
def documents(ask: Callable[..., Any], demos: dict[str, Path]) -> list[str]:
    """Give the pages of the demos."""
    return [ask("report", file).text for file in demos.values()]


@pytest.fixture(scope="module")
def measured(
    browse: Callable[..., Any], documents: list[str], tmp_path_factory: pytest.TempPathFactory
) -> list[Any]:
    """Give what the pages measure on a phone, on paper and on a desk, a list of three for each."""
    looks = [
        (width, text)
        for document in documents
        for width, text in (
            (PHONE, document),
            (PAPER, document.replace("@media print", "@media all")),
            (DESK, document),
        )
    ]
    file = tmp_path_factory.mktemp("measuring") / "measuring.html"
    pages = json.dumps(looks).replace("<", "\\u003c")
    file.write_text(MEASURING.replace("%s", pages), encoding="utf-8")
    shown = browse(file, "--virtual-time-budget=20000", "--dump-dom").stdout
    told = re.search(r'<pre id="told">(.*?)</pre>', shown, re.DOTALL)
    assert told
    found = sorted(json.loads(html.unescape(told[1])), key=lambda of: of["width"])
    assert len(found) == len(looks)
    return list(found)


def test_nothing_goes_beyond_the_edge(measured: list[Any]) -> None:
    """There is no sideways scroll on a phone, and on paper no table and no chart is cut."""
    assert {of["width"] for of in measured} == {PHONE, PAPER, DESK}
    assert [of for of in measured if of["wide"] > of["width"]] == []
    assert [of for of in measured if of["width"] == PAPER and of["cut"]] == []


def test_letters_stand_out(measured: list[Any]) -> None:
    """All letters have the contrast that WCAG 2 asks for at level AA."""
    assert min(of["least"] for of in measured) >= LEAST_CONTRAST


def test_the_browser_reads_what_was_written(measured: list[Any], documents: list[str]) -> None:
    """Every element stands in the browser's tree as often as in the document: nothing was mended."""
    seen = [of["counts"] for of in measured if of["width"] == PHONE]
    wanted = [Counter(read_page(document).counts) for document in documents]
    key = json.dumps
    assert sorted(seen, key=lambda of: key(of, sort_keys=True)) == sorted(
        map(dict, wanted), key=lambda of: key(of, sort_keys=True)
    )


def test_nothing_is_told_on_the_console(
    browse: Callable[..., Any], documents: list[str], tmp_path: Path
) -> None:
    """A page calls forth no word on the console; one that would load something does."""
    file, bad = tmp_path / "page.html", tmp_path / "bad.html"
    file.write_text(documents[0], encoding="utf-8")
    bad.write_text(documents[0].replace("<main>", '<main><img src="a.png" alt="">'), encoding="utf-8")
    assert "CONSOLE" not in browse(file, "--dump-dom").stderr
    assert "CONSOLE" in browse(bad, "--dump-dom").stderr


def test_it_prints_on_a4(browse: Callable[..., Any], documents: list[str], tmp_path: Path) -> None:
    """It prints as a PDF of several pages, each of A4."""
    file, printed = tmp_path / "page.html", tmp_path / "page.pdf"
    file.write_text(documents[0], encoding="utf-8")
    browse(file, "--no-pdf-header-footer", f"--print-to-pdf={printed}")
    data = printed.read_bytes()
    assert data.startswith(b"%PDF-")
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", data)
    assert len(boxes) > 3
    assert {(round(float(wide)), round(float(high))) for wide, high in boxes} == {(595, 842)}
