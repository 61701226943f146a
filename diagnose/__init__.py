"""Reason back from a defect of a cured ham to the step of the chain that caused it."""

__version__ = "0.1.0"
