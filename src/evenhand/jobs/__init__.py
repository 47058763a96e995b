"""What an administrator does, one module a thing: the only place that reads, computes and writes."""
