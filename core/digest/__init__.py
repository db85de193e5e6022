"""The Sunday digest: facts, their order, the words, the picture, and the history to take away."""
