"""What the word-processor files of one recipe all read as."""

CORNED_BEEF = """\
Corned brisket, Thursday
Enough for 12 portions.

Brine
\tOne flat\tTwo flats
Water\t1 gal\t2 gal
Kosher salt\t10 oz\t1 lb 4 oz
Brown sugar\t5 oz\t10 oz
Pink salt no. 1\t~~6~~ 4 tsp\t8 tsp

Spice
- 2 tbsp mustard seed
- 6 bay leaves

Method
1. Bring the brine to a boil, then cool it to 38 °F.
2. Lay in the brisket, 5 lb, and cure 7 days at 36 to 38 °F, turning it daily.
(Note, MO: Thick end needs two days more)
3. Rinse, cover with fresh water and simmer 3 hours until 195 °F inside.
"""
