"""Zones, trips, weeks: when and where."""
