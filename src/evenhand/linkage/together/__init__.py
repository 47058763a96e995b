"""All strays solved together."""
