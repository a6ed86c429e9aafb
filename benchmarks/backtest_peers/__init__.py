"""Heavy peers of the backtest: what a statistician and what machine learning would do with the same logs.

They learn from the other lifters, never from the one they follow, and answer as any rule does. Nothing of this is
shipped: it shows how far the product's own model is from what can be had with more time and more packages.
"""
