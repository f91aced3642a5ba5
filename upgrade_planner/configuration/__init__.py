"""What is in the vehicle: files in, composed and routed wiring out."""
