"""Lugwright plans the wiring harness behind a small craft's instrument panel."""

__version__ = "0.1.0"
