"""What the watch over scores and refusals tells of hands and readers, each with a way to set it right."""
