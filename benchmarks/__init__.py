"""Timings as ratios against a peer in the same run; no test asserts them."""
