"""The shared words: records, declared columns, tables, units, citations, zones and workweeks."""
