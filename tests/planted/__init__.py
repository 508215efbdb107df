"""Planted faults: sound pages, each faulted by one textual edit, and what the audit says of it. ``python -m tests.planted`` prints the table."""
