"""What was asked and done, what would be kept next week, and how good past forecasts were."""
