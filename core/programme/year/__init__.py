"""The year: what is coming up, the blocks laid backwards from it, and a picture of them."""
