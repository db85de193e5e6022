"""What a client can say to us, and what we say back."""
