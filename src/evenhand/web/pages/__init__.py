"""The pages, one folder each: `page.py` (routes and menu entry), `view.py` (what is shown), and its templates."""
