"""One file: what is read, where in it a fault stands, what ships with the program."""
