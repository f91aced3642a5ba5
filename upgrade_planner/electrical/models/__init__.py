"""What each kind of component is, electrically, in each operating state."""
