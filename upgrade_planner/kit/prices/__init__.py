"""A shop's list of prices and stock."""
