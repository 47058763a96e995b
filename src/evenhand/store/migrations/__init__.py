"""How the store's tables came to be, step by step; a step that has been released is never edited."""

HEAD = "0018"
