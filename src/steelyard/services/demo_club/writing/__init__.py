"""The eight files as people really keep them: each of its own shape, with its own bad habits."""
