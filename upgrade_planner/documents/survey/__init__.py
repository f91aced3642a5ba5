"""The survey form on paper."""
