"""Tests, in the shape of what they test."""
