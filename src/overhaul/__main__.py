"""``python -m overhaul``."""

from overhaul.cli import main

main(prog_name="overhaul")
