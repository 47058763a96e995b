"""How the store's tables came to be, step by step; a step that has been released is never edited.

The ledger seals rows as they stand: a column that is added must be empty where there are rows, which changes no seal.
"""

HEAD = "0023"
