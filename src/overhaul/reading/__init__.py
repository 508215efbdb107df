"""Reading: from the words of a page to numbers, units, names and actions, each with its place.

``line_parser`` is the only importer of lark, ``units`` the only importer of pint, ``lexicon`` holds the words.
"""
