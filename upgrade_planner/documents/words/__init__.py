"""The room of words: quantities, names and sentences for every paper and screen."""
