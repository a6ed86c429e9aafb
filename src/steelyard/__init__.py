"""Steelyard: a training log that says what to lift next, and why."""

__version__ = "0.1.0"
