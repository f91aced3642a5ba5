"""Which piece of cable is cut from which reel."""
