"""What the words of a header mean, in eight languages."""
