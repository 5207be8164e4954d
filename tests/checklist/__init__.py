"""Tests of the checklist."""
