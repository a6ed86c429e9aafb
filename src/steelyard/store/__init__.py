"""The log at rest: entries as they were sent, in commit order; only this package sees its tables."""
