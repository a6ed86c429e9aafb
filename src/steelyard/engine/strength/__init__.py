"""Latent strength: how strong today, how sure, and how it moves."""
