"""Invented people with phones: they read what comes, and answer when they get round to it. They know nothing of the house."""
