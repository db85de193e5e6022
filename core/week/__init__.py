"""The week by its rules: promises, asks, answers, and what is due when."""
