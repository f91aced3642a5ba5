"""How parts look: their room, where their terminals lie, and what the pen draws."""
