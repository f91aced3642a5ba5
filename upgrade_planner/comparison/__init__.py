"""What differs between two configurations, and what can be used again."""
