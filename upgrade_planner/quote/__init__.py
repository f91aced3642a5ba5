"""What a job costs: labour, parts, tax, with what is assumed and what is left out."""
