"""The work sheet."""
