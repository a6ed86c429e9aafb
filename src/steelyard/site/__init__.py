"""Settings and wiring: the only place that knows where the data lie."""
