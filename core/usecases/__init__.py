"""What can be done in the house: each a function of a transaction, an instant and its facts, saying nothing to anybody.

They load values, ask the pure rules what follows, and keep what changed. Messages are the business of `bot`.
"""
