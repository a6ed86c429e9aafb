"""Simulated lifters to test rules and models on; always called simulated, never evidence."""
