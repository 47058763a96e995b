"""All strays solved together: what is given to one is no longer free for another."""
