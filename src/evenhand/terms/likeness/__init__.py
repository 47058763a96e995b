"""How a name or a number that was written or keyed can be somebody's all the same; one answer for every room."""
