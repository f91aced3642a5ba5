"""From differences to an ordered list of operations with hold points."""
