"""Coaches and clients: who they are, what they agreed to, and what they told us to plan by."""
