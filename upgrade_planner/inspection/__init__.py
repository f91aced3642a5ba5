"""The form to take to the vehicle, and what a filled one says."""
