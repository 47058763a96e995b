"""evenhand: roster, readers, punches and paid hours kept in agreement."""

__version__ = "0.1.0"
