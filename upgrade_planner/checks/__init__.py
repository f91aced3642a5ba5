"""Rules that look at one configuration and say what would hurt."""
