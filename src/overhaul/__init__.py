"""Overhaul reads cured-meat recipes as they are written, works their sums and reports line by line."""

__version__ = "0.1.0"
