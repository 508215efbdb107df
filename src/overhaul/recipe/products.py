"""What kind of product a name is."""

from __future__ import annotations

from overhaul.reading.patterns import Pattern
from overhaul.recipe.model import Product

PRODUCTS: tuple[tuple[Pattern, Product], ...] = (
    (Pattern(r"pastrami"), "pastrami"),
    (Pattern(r"\bgravlax|gravad|gravadlax|gravlaks"), "gravlax"),
    (Pattern(r"\bjerky|biltong"), "jerky"),
    (Pattern(r"prosciutto|bresaola|\bcoppa\b|salami|country ham|dry[- ]cured ham|saucisson|chorizo, dried|dried beef|lonza|pancetta, dried|speck|air[- ]dried|wind[- ]dried|cecina"), "dried"),
    (Pattern(r"sausages?|\bground\b|minced?\b|frankfurter|bologna|kielbasa|wieners?|salt ?pork sausage|links?\b|brats?\b|\w*wurst\b|chorizo|merguez|andouille|linguica|longaniza|salsiccia|boudin|chipolatas?|(?:snack|beef|meat|venison|pork) sticks?\b|meat ?loaf"), "ground"),
    (Pattern(r"\b(?:loin|back|canadian|canadian-style) bacon\b|\bloin\b|canadian bacon"), "loin"),
    (Pattern(r"\bbacon|pancetta|\bbell(?:y|ies)\b"), "bacon"),
    (Pattern(r"tongues?\b"), "tongue"),
    (Pattern(r"\bcorn(?:ed|ing)?\b|salt beef|hunter'?s beef|spiced (?:beef|round)|pickled beef|salted beef|boiled beef in brine"), "corned beef"),
    (Pattern(r"\bhams?\b|gammon"), "ham"),
    (Pattern(r"turkey|chicken|duck|goose|poultry|\bbird|capon|pheasant|\bhens?\b"), "poultry"),
    (Pattern(r"salmon|trout|\bfish|mackerel|herring|whitefish|bluefish|sturgeon|\beel|cod\b|char\b|lox|kippers?"), "fish"),
    (Pattern(r"smoked beef|smoked brisket|brisket|venison|pork|beef|lamb|mutton|game"), "other"),
)

_ANY = Pattern("|".join(pattern.pattern for pattern, _ in PRODUCTS))


def product_of(words: str) -> Product | None:
    """The product that ``words`` name, the most telling first, or None."""
    low = words.lower()
    if _ANY.search(low) is None:
        return None
    return next((product for pattern, product in PRODUCTS if pattern.search(low)), None)
