"""Slow, plain ways to the same answers, that the engine is held against."""
