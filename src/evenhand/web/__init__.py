"""Server-rendered pages for one administrator at one machine; see `docs/pages.md`."""
