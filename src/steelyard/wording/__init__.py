"""Reasons and quantities put into words, for each language and unit."""
