"""``python -m tests.fuzz READER SECONDS [FOLDER]``: fuzz one reader, beginning anew after each finding; a line of figures, and each finding with the file of its bytes.

A finding is what raises, takes longer than five seconds, or takes the process over 500 megabytes more than it begins with.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path
from time import monotonic

from tests.fuzz.readers import READERS, found_before

MOST_SECONDS = 5
MOST_MEGABYTES = 700  # an instrumented process begins with some 150
MOST_BEGUN = 40
_COUNT = re.compile(r"stat::number_of_executed_units:\s*(\d+)")
_PEAK = re.compile(r"stat::peak_rss_mb:\s*(\d+)")
_FINDING = re.compile(r"Test unit written to (\S+)")
_SAID = re.compile(r"(?:ERROR: libFuzzer: .*|^[\w.]*(?:Error|Exception|Exceeded|Warning)\b.*)", re.MULTILINE)


def main(name: str, seconds: float, folder: Path) -> int:
    """The number of findings that differ."""
    corpus = folder / name
    corpus.mkdir(parents=True, exist_ok=True)
    for number, page in enumerate([*READERS[name][1], *found_before(name)]):
        (corpus / f"seed-{number}").write_bytes(page)
    begin, runs, peak = monotonic(), 0, 0
    found: dict[str, str] = {}
    for _ in range(MOST_BEGUN):
        left = int(seconds - (monotonic() - begin))
        if left < 1:
            break
        options = [f"-max_total_time={left}", f"-timeout={MOST_SECONDS}", f"-rss_limit_mb={MOST_MEGABYTES}", "-max_len=20000", "-len_control=0", "-print_final_stats=1", f"-artifact_prefix={folder}/{name}-"]
        done = subprocess.run([sys.executable, "-m", "tests.fuzz.one", name, str(corpus), *options], capture_output=True, text=True, errors="replace", check=False)
        said = done.stdout + done.stderr
        runs += sum(map(int, _COUNT.findall(said)))
        peak = max([peak, *map(int, _PEAK.findall(said))])
        if done.returncode == 0:
            continue
        place = _FINDING.search(said)
        what = (_SAID.findall(said) or [said[-2000:]])[0]
        if what not in found:
            found[what] = place[1] if place else "no file"
            (folder / f"{name}-said-{len(found)}").write_text(said[-20_000:])
        if place is None:
            break
    print(f"{name}: {runs:,} executions in {monotonic() - begin:.0f} s, peak {peak} MB, {len(found)} findings", flush=True)
    for what, file in found.items():
        print(f"  {what}\n    {file}", flush=True)
    return len(found)


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4) or sys.argv[1] not in READERS:
        sys.exit(f"python -m tests.fuzz READER SECONDS [FOLDER]; readers: {', '.join(READERS)}")
    sys.exit(min(main(sys.argv[1], float(sys.argv[2]), Path(sys.argv[3]) if len(sys.argv) == 4 else Path(tempfile.mkdtemp(prefix="fuzz-"))), 1))
