"""What an owner wishes of a car, and what that asks of the rest of its wiring."""
