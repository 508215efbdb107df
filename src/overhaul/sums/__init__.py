"""The sums: pure functions on numbers and spans, one module a subject; ``work`` picks their inputs from a recipe."""
