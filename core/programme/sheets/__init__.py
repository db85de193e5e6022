"""Programmes as spreadsheets, out and in."""
