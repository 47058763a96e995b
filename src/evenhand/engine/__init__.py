"""Run one function over many partitions: here, over threads or over processes."""

from evenhand.engine.partitions import map_partitions

__all__ = ["map_partitions"]
