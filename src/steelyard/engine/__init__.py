"""Pure computation: no files, no clock, no chance, no database; everything it needs is an argument."""
