"""Changes of an XML document that leave it one: changed bytes are seldom XML, and never get past its parser."""

from __future__ import annotations

import random
from collections.abc import Callable
from copy import deepcopy
from typing import Any

_VALUES = ("", "0", "1", "-1", "63", "99999999999", "1e308", "true", "\u202e", "A1:XFD1048576", "½ cup", "a" * 300)


def changed(data: bytes, most: int, seed: int, otherwise: Callable[[bytes, int], bytes]) -> bytes:
    """``data`` with some of its elements moved, doubled, nested, emptied or told otherwise; what is no XML goes to ``otherwise``."""
    from lxml import etree

    chance = random.Random(seed)
    try:
        root = etree.fromstring(data, etree.XMLParser(resolve_entities=False, no_network=True))
    except (etree.XMLSyntaxError, ValueError):
        return otherwise(data, most)
    if chance.random() < 0.1:
        return otherwise(data, most)
    for _ in range(chance.randint(1, 6)):
        elements = [element for element in root.iter() if isinstance(element.tag, str)]
        _change(chance.choice(elements), chance.choice(elements), chance)
    made: bytes = etree.tostring(root)
    return made if len(made) <= most else otherwise(data, most)


def _change(one: Any, other: Any, chance: random.Random) -> None:
    kind = chance.randrange(7)
    above = one.getparent()
    if kind == 0 and above is not None:
        above.remove(one)
    elif kind == 1 and above is not None:
        above.insert(above.index(one), deepcopy(one))
    elif kind == 2:
        one.append(deepcopy(other))
    elif kind == 3:
        one.tag = other.tag
    elif kind == 4 and one.attrib:
        one.attrib[chance.choice(sorted(map(str, one.attrib)))] = chance.choice((*_VALUES, *map(str, other.attrib.values())))
    elif kind == 5 and other.attrib:
        name = chance.choice(sorted(map(str, other.attrib)))
        one.attrib[name] = other.attrib[name]
    else:
        one.text = chance.choice((*_VALUES, other.text or ""))
