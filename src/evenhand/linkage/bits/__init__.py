"""What is seen, weighed in bits."""
