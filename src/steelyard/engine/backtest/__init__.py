"""The ruler: every session of a log predicted from what was known before it, and the predictions scored."""
