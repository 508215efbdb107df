"""Fuzzing of every reader, guided by coverage (atheris). By hand: ``python -m tests.fuzz READER SECONDS``; not part of the tests."""
