"""Files and typed lines, in and out."""
