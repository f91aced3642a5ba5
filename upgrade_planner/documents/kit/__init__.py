"""Pick list, cutting list, bags and labels."""
