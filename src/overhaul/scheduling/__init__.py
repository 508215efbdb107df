"""What is to be done for one recipe, and when, worked back from when it is served.

``tasks`` reads the work from the recipe, ``lasting`` how long each of it takes, ``placing`` puts it into the days before the
serving, ``clock`` keeps the kitchen's time, ``turning`` the days on which the meat is turned. Nothing here writes a page.
"""
