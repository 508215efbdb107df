"""A made-up binder of any size, for measuring: pages of the corpus, each varied in its figures, its title and the order of its lines.

``python -m tests.made_binder 1000 FOLDER`` writes it.
"""

from __future__ import annotations

import random
import re
import sys
from pathlib import Path

from tests.conftest import CORPUS

_FIGURE = re.compile(r"(?<![\d/.#])\b([2-9]|[1-9]\d)\b(?![\d/.])")
_KITCHENS = "hill mill weir lane gate yard barn quay dale ford".split()
_SMALL = "note: made on a wet {day}, {name} said it wants {much}."


def pages(count: int, seed: int = 6) -> list[tuple[str, str]]:
    """``count`` names and texts; the same for the same seed. One in eight is a copy of another with its days or its curing salt changed."""
    chance = random.Random(seed)
    sources = sorted(path for path in CORPUS.rglob("*") if path.suffix in (".txt", ".md") and not path.name.startswith("README"))
    made: list[tuple[str, str]] = []
    for number in range(count):
        source = sources[number % len(sources)]
        if number >= len(sources) and chance.random() < 1 / 8:
            name, text = made[chance.randrange(len(made))]
            made.append((f"{number:05}-copy-of-{name[:5]}{source.suffix}", _changed(text, chance, 0.1)))
            continue
        text = _changed(source.read_text("utf-8", "replace"), chance, 0.4)
        head, _, rest = text.partition("\n")
        words = " ".join(chance.sample(_KITCHENS, 3))
        note = _SMALL.format(day=chance.choice(["monday", "friday", "sunday"]), name=chance.choice(_KITCHENS), much=chance.choice(["less salt", "more smoke", "a longer soak"]))
        made.append((f"{number:05}-{source.stem}{source.suffix}", f"{head} {words} {number}\n{rest}\n{note}\n"))
    return made


def _changed(text: str, chance: random.Random, share: float) -> str:
    """``text`` with a share of its small figures one up or down."""
    return _FIGURE.sub(lambda found: str(int(found[1]) + chance.choice((-1, 1))) if chance.random() < share else found[1], text)


def write(folder: Path, count: int) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in pages(count):
        (folder / name).write_text(text, "utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[2]), int(sys.argv[1]))
