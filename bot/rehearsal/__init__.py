"""Rehearsal: the whole system on this machine alone, so that a coach can try every message first."""
