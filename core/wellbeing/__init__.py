"""Sleep, load, screening and cautions: what a coach watches so that training does no harm. Never a diagnosis."""
