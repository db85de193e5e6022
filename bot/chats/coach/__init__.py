"""What a coach can say to us, and what we say back."""
